"""What the wood gives: cuts along each stem, log ends in hand, their sizes and masses."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Caution, Check, Figure
from cordwright.timber.inputs import EndShape, Stem

if TYPE_CHECKING:
    from cordwright.timber.forecast import Forecast


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One log end on its stem: where it is cut [m from the butt] and its mid-length diameter as measured [m].

    Ids count from 1 at the butt, `<stem>-<k>`; the stock numbers alike stems too, `<stem>.<i>-<k>`.
    """

    id: str
    start: float
    end: float
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StemCut:
    """How one stem (or each of `stem.count` alike) is cut.

    `offcut` is the length that is neither log end, nor end trim, nor the kerf between two neighbours [m]: the rest at
    the top and what is cut out at defects. A stem that gives nothing is all offcut. `short_if_retrimmed` tells that
    cutting both stick ends fresh would cost a piece.
    """

    stem: Stem
    pieces: tuple[Piece, ...]
    offcut: float
    short_if_retrimmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The log ends in hand, one row each, all arrays of the same length n.

    `diameter`: mid-length diameter at the laying moisture, bark off [m], NaN where that moisture or the species'
    shrinkage is unknown (`known_diameters` leaves these out); `green_diameter` the same in fresh wood, NaN alike;
    `mass_green`, `mass_laying` [kg], NaN where the species' density is unknown too. `counted` is False when some ids
    stand for a pile known only by sample. `shape`: of each log end, empty when all are rounds; the diameters of halves
    and quarters are their parents', their masses their own.
    """

    id: tuple[str, ...]
    stem: tuple[str, ...]
    species: tuple[str, ...]
    diameter: NDArray[np.float64]
    green_diameter: NDArray[np.float64]
    mass_green: NDArray[np.float64]
    mass_laying: NDArray[np.float64]
    counted: bool
    shape: tuple[EndShape, ...] = ()

    @property
    def known_diameters(self) -> NDArray[np.float64]:
        """The diameters at laying that are known [m]; none when the laying moisture is not stated."""
        return self.diameter[np.isfinite(self.diameter)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """The wood worked out; `drying` is the forecast behind its seasoning figures, None before `season_timber`."""

    cuts: tuple[StemCut, ...]
    stock: Stock
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    drying: "Forecast | None" = None

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
