"""Reading and editing the owner's files: building.toml and the lists beside it, every fault with its line."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cordwright.project.changing import change
    from cordwright.project.lines import lines_of
    from cordwright.project.quantity import QuantityFault, parse_quantity
    from cordwright.project.reading import Reading, read
    from cordwright.project.saving import save_atomically

__all__ = ["QuantityFault", "Reading", "change", "lines_of", "parse_quantity", "read", "save_atomically"]

_HOMES = {
    "QuantityFault": "quantity",
    "Reading": "reading",
    "change": "changing",
    "lines_of": "lines",
    "parse_quantity": "quantity",
    "read": "reading",
    "save_atomically": "saving",
}


def __getattr__(name: str) -> Any:
    """Load each part on first use: to save a file or read a quantity needs none of the stages."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
