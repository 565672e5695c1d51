"""mortar."""
