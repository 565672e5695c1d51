"""Which log ends lie in the stack, one by one?"""

from collections.abc import Callable, Iterable

import numpy as np
from numpy.typing import NDArray

from cordwright.timber.inputs import TimberInput
from cordwright.timber.lots import Lot
from cordwright.timber.masses import dry_mass, green_moisture
from cordwright.timber.results import Stock


def stock_of(timber: TimberInput, lots: tuple[Lot, ...]) -> Stock:
    """List the log ends, those of stems first, each with its sizes and masses.

    Args:
        timber: the stock as stated.
        lots: the same, cut.

    Sources: those of the lots; green moisture is an assumption (`green-moisture`).
    """
    dry = _column(lots, lambda lot: dry_mass(lot.wood, lot.volume, lot.green))
    laying = np.nan if timber.laying_moisture is None else timber.laying_moisture
    return Stock(
        id=tuple(name for lot in lots for name in lot.ids),
        stem=tuple(_repeated(lots, lambda lot: lot.name)),
        species=tuple(_repeated(lots, lambda lot: lot.wood.name)),
        diameter=_column(lots, lambda lot: lot.diameter * _or_nan(lot.laying)),
        green_diameter=_column(lots, lambda lot: lot.diameter * _or_nan(lot.green)),
        mass_green=dry * (1 + green_moisture()[1]),
        mass_laying=dry * (1 + laying),
        counted=all(lot.counted for lot in lots),
        shape=tuple(lot.shape for lot in lots for _ in lot.ids) if any(lot.shape != "round" for lot in lots) else (),
    )


def _repeated(lots: tuple[Lot, ...], word: Callable[[Lot], str]) -> Iterable[str]:
    return (word(lot) for lot in lots for _ in lot.ids)


def _column(lots: tuple[Lot, ...], values: Callable[[Lot], NDArray[np.float64]]) -> NDArray[np.float64]:
    return np.concatenate([np.empty(0), *(values(lot) for lot in lots)])


def _or_nan(ratio: float | None) -> float:
    return np.nan if ratio is None else ratio
