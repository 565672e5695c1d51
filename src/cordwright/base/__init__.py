"""What every stage speaks: figures with their sources, checks, problems, cautions, errors, exact units, tables."""

from cordwright.base.errors import (
    CordwrightError,
    DataError,
    FileChangedError,
    InputError,
    OutOfRangeError,
    StoppedError,
)
from cordwright.base.records import Entry, Records
from cordwright.base.sources import Source, source, source_keys
from cordwright.base.tables import caution, cite, table
from cordwright.base.values import Caution, Check, Cite, Figure, Problem, Severity, Step, Value, Verdict

__all__ = [
    "Caution",
    "Check",
    "Cite",
    "CordwrightError",
    "DataError",
    "Entry",
    "Figure",
    "FileChangedError",
    "InputError",
    "OutOfRangeError",
    "Problem",
    "Records",
    "Severity",
    "Source",
    "Step",
    "StoppedError",
    "Value",
    "Verdict",
    "caution",
    "cite",
    "source",
    "source_keys",
    "table",
]
