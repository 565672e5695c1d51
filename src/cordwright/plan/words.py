"""How are sizes and names told to the builder? In millimetres, as on the tape, and with the nearest known name."""

from collections.abc import Iterable
from difflib import get_close_matches


def mm(length: float) -> str:
    """Give a length [m] as millimetres, to a tenth where it is not whole."""
    return f"{length * 1000:.1f}".removesuffix(".0")


def listing(names: Iterable[str]) -> str:
    """Put names in one line: `S, SE and E`."""
    several = list(names)
    return several[0] if len(several) == 1 else f"{', '.join(several[:-1])} and {several[-1]}" if several else "none"


def known_names(wrong: str, known: Iterable[str]) -> str:
    """Tell the nearest known name and all of them."""
    names = list(known)
    near = get_close_matches(wrong.upper(), [n.upper() for n in names], n=1, cutoff=0.5)
    meant = next((n for n in names if near and n.upper() == near[0]), None)
    return (f"did you mean {meant}? " if meant else "") + f"known here: {listing(names)}"
