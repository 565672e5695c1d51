"""Which size and which category of fines would EN 13139 give a sand, as far as that standard is remembered?"""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Cite
from cordwright.mortar.advice import Advice
from cordwright.mortar.grading import Grading

SOURCE: Final = Cite("en-13139-memory")
NAME: Final = "EN 13139 as remembered"
SIZES: Final = (1e-3, 2e-3, 4e-3, 8e-3)
"""Upper sizes D of the sands 0/D [m]."""
LEAST_AT_SIZE: Final = 0.85
"""Share that at least passes D; all of it passes 2 D [1]."""
FINES: Final = 0.063e-3
CATEGORIES: Final = ((1, 0.03), (2, 0.05), (3, 0.08), (4, 0.30))
"""Fines category and the most that may pass 0.063 mm [1]."""


def size_words(curve: Grading) -> str | None:
    """The size 0/D of a sand, None when the sieves used do not tell.

    Args:
        curve: the passing curve.

    Sources: as remembered (`en-13139-memory`).
    """
    for size in SIZES:
        through, double = curve.at(size), curve.at(2 * size)
        if through is None or through < LEAST_AT_SIZE:
            continue
        if double is None:
            return None
        if double >= 1.0 - 1e-9:
            return f"0/{size * 1000:g}"
    return None


def fines_category(fines: float) -> int | None:
    """Category of what passes 0.063 mm, None beyond the last.

    Args:
        fines: share passing 0.063 mm [1].

    Sources: as remembered (`en-13139-memory`).
    """
    return next((name for name, most in CATEGORIES if fines <= most + 1e-9), None)


def en_remarks(curve: Grading) -> Iterator[Advice]:
    """What the standard would call the sand; what the sieves do not reach is not judged."""
    size, fines = size_words(curve), curve.at(FINES)
    named = f"size {size}" if size else "size not judged"
    if fines is None:
        yield Advice(words=f"{NAME}: {named}; fines not judged without a sieve of 63 µm")
        return
    category = fines_category(fines)
    told = f"fines category {category}" if category else "fines beyond the last category"
    words = f"{NAME}: {named}; {told}, {{}} through 63 µm; sieved dry, washing finds more"
    yield Advice(words=words, amounts=((fines, "1"),))
