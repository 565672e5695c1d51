"""cost."""
