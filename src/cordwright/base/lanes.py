"""How does a kernel work on several neighbours of a row at once?

`take` gives as many numbers as a processor handles together, `give` puts them back; in between they are added and
multiplied like one number. Said so, the compiler need not first find out whether arrays overlap, which in short loops
costs more than the work. Where numba does not stand the same text runs on slices.
"""

from contextlib import suppress
from typing import Final

import numpy as np
from numpy.typing import NDArray

LANES: Final = 8
"""How many single floats go together: those of one 256-bit vector."""

Lanes = NDArray[np.float32]
"""So many neighbours where the text runs interpreted; a vector of the processor where it is compiled."""
Place = tuple[int, ...]


def _stretch(place: Place) -> tuple[int | slice, ...]:
    return *place[:-1], slice(place[-1], place[-1] + LANES)


def take(row: NDArray[np.float32], place: Place) -> Lanes:
    """The neighbours that begin at a place; it is not checked that the row holds so many."""
    return np.array(row[_stretch(place)])


def give(row: NDArray[np.float32], place: Place, lanes: Lanes) -> None:
    """Put neighbours back, beginning at a place; it is not checked that the row holds so many."""
    row[_stretch(place)] = lanes


def lanes_of(value: float) -> Lanes:
    """The same number in every lane."""
    return np.full(LANES, value, np.float32)


def summed(lanes: Lanes) -> float:
    """All lanes together, added in double precision."""
    return float(lanes.sum(dtype=np.float64))


with suppress(ImportError):
    from cordwright.base.lanes_compiled import teach

    teach(LANES, take, give, lanes_of, summed)
