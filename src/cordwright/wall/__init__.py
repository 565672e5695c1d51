"""wall."""
