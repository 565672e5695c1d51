"""Which log ends are there, lot by lot: each stem (or stick, with its like) and each stack of cut pieces?"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, cite, table
from cordwright.timber.bucking import bark_factor
from cordwright.timber.inputs import SHARES, EndShape, Pile, Species, Stem, TimberInput
from cordwright.timber.results import StemCut
from cordwright.timber.shrinkage import green_ratio, laying_ratio
from cordwright.timber.species import wood_of
from cordwright.timber.volumes import cone_frustum, face_area


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Log ends of one origin and wood, bark off.

    `diameter` (of the parents, for splits) [m] and `volume` [m3], shape (n,), and their whole `face` [m2] are as
    measured; `least` and `most` are
    the spread of face and volume, as factors. `green` and `laying` turn a measured diameter into the one in fresh wood
    and at laying [1], None where unknown. `count_spread` is the spread of n, as factors.
    """

    name: str
    wood: Species
    ids: tuple[str, ...]
    diameter: NDArray[np.float64]
    volume: NDArray[np.float64]
    face: float
    least: float
    most: float
    count_spread: tuple[float, float]
    green: float | None
    laying: float | None
    counted: bool
    sources: tuple[Cite, ...]
    shape: EndShape = "round"

    @property
    def count(self) -> int:
        """Number of log ends."""
        return len(self.ids)

    @property
    def solid(self) -> float:
        """Volume of all its log ends as measured [m3]."""
        return float(self.volume.sum())


def lots_of(timber: TimberInput, cuts: tuple[StemCut, ...], log_end_length: float) -> tuple[Lot, ...]:
    """Give the lots of the stock: stems in the owner's order, then piles.

    Args:
        timber: the stock as stated.
        cuts: its stems, cut.
        log_end_length: the wall's one length, to which the piles are cut already [m].
    """
    lots = [_stem_lot(timber, cut, log_end_length) for cut in cuts]
    first = 1
    for number, pile in enumerate(timber.piles, start=1):
        lots.append(_pile_lot(timber, pile, f"pile {number}", log_end_length, first))
        first += lots[-1].count
    return tuple(lots)


def stem_names(stem: Stem) -> tuple[str, ...]:
    """Name every stem of a row: its own name, or `<stem>.<i>` for each of several alike."""
    return (stem.name,) if stem.count == 1 else tuple(f"{stem.name}.{i}" for i in range(1, stem.count + 1))


def _stem_lot(timber: TimberInput, cut: StemCut, length: float) -> Lot:
    stem, wood = cut.stem, wood_of(timber, cut.stem.species)
    peeled = bark_factor(timber) if stem.bark else 1.0
    numbers = range(1, len(cut.pieces) + 1)
    diameter = np.array([p.diameter for p in cut.pieces], dtype=np.float64) * peeled
    slimmer = (stem.butt_diameter - stem.top_diameter) * peeled * length / stem.length / 2  # from mid-length to the top
    volume = cone_frustum(diameter + slimmer, diameter - slimmer, np.full(diameter.shape, length))
    low, high = _bark_and_tape(timber, stem)
    return Lot(
        name=stem.name,
        wood=wood,
        ids=tuple(f"{name}-{k}" for name in stem_names(stem) for k in numbers),
        diameter=np.tile(diameter, stem.count),
        volume=np.tile(volume, stem.count),
        face=float(face_area(diameter).sum()) * stem.count,
        least=low,
        most=high,
        count_spread=(1.0, 1.0),
        green=green_ratio(wood, timber),
        laying=laying_ratio(wood, timber),
        counted=True,
        sources=(Cite("owner", "stems"), *_bark_sources(timber, stem), Cite("even-taper"), Cite("tape-error")),
    )


def _bark_and_tape(timber: TimberInput, stem: Stem) -> tuple[float, float]:
    """Spread of a stem's face and volume: the tape's, and that of the remembered bark factor."""
    spread, bark = float(table("stock")["tape"]["spread"]), table("stock")["bark"]
    remembered = stem.bark and timber.bark_factor is None
    thin, thick = (bark["low"] / bark["factor"], bark["high"] / bark["factor"]) if remembered else (1.0, 1.0)
    return (thin * (1 - spread)) ** 2, (thick * (1 + spread)) ** 2


def _bark_sources(timber: TimberInput, stem: Stem) -> tuple[Cite, ...]:
    if not stem.bark:
        return ()
    own = timber.bark_factor is not None
    return (Cite("owner", "stock.bark_factor"),) if own else (Cite("bark-memory", "under bark over over bark"),)


def _pile_lot(timber: TimberInput, pile: Pile, name: str, length: float, first: int) -> Lot:
    solid, wood = pile.stacked_volume * pile.solid_factor, wood_of(timber, pile.species)
    diameter = drawn_diameters(pile, pieces_of_pile(pile, length))
    low, high = _solid_spread(pile)
    return Lot(
        name=name,
        wood=wood,
        ids=tuple(f"pile-{n}" for n in range(first, first + diameter.size)),
        diameter=diameter,
        volume=face_area(diameter) * (solid / float(face_area(diameter).sum())),
        face=solid / length,
        least=low,
        most=high,
        count_spread=(low, high),
        green=green_ratio(wood, timber),
        laying=laying_ratio(wood, timber),
        counted=False,
        sources=(Cite("owner", "stock.piles"), *_stack_sources(pile), Cite("log-end-quantiles")),
        shape=pile.shape,
    )


def pieces_of_pile(pile: Pile, length: float) -> int:
    """Estimate the pieces in a stack: its solid volume over that of the sample's mean piece, one at the least.

    A half or quarter piece is that share of the round of its parent's diameter.

    Args:
        pile: with its sample of diameters.
        length: of each piece [m].

    Sources: closed form.
    """
    mean_face = SHARES[pile.shape] * float(face_area(np.array(pile.diameters, dtype=np.float64)).mean())
    return max(1, round(pile.stacked_volume * pile.solid_factor / (mean_face * length)))


def drawn_diameters(pile: Pile, count: int) -> NDArray[np.float64]:
    """Give a stack's pieces the diameters of its sample, in even steps from small to large [m], shape (count,).

    Args:
        pile: with its sample of diameters.
        count: how many pieces.

    Sources: assumption (`log-end-quantiles`).
    """
    sample = np.sort(np.array(pile.diameters, dtype=np.float64))
    return sample[(2 * np.arange(count) + 1) * sample.size // (2 * count)]


def _solid_spread(pile: Pile) -> tuple[float, float]:
    """Spread of a stack's solid volume, as factors: the owner's, else that of solid wood in a cord."""
    stack = table("stock")["stack"]
    low = stack["low_ft3"] / 128 if pile.solid_factor_low is None else pile.solid_factor_low
    high = stack["high_ft3"] / 128 if pile.solid_factor_high is None else pile.solid_factor_high
    return min(1.0, low / pile.solid_factor), max(1.0, high / pile.solid_factor)


def _stack_sources(pile: Pile) -> tuple[Cite, ...]:
    stated = pile.solid_factor_low is not None and pile.solid_factor_high is not None
    return () if stated else (Cite("cord-solid-share", "spread of the solid factor"),)


def wood_sources(lots: tuple[Lot, ...]) -> tuple[Cite, ...]:
    """Give the sources of the woods' shrinkages and densities, each once."""
    woods = {lot.wood.name: lot.wood for lot in lots}
    return tuple(dict.fromkeys(cite(text) for wood in woods.values() for text in wood.sources))


def lot_sources(lots: tuple[Lot, ...]) -> tuple[Cite, ...]:
    """Give the sources of the lots' sizes, each once."""
    return tuple(dict.fromkeys(source for sources in {lot.sources: None for lot in lots} for source in sources))


def count_of(lots: tuple[Lot, ...]) -> tuple[float, float, float]:
    """Low, middle and high of the number of log ends."""
    return (
        float(sum(math.floor(lot.count * lot.count_spread[0]) for lot in lots)),
        float(sum(lot.count for lot in lots)),
        float(sum(math.ceil(lot.count * lot.count_spread[1]) for lot in lots)),
    )
