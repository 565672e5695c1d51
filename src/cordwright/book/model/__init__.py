"""What does the whole building look like from any side? Its solids in metres, for a GLB viewer."""

from cordwright.book.model.building import write_model

__all__ = ["write_model"]
