"""timber."""
