"""Cordwright: the whole job's computation for someone who builds a cordwood wall by hand."""

__version__ = "0.1.0"
