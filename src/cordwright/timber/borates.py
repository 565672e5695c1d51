"""How much of a borate dissolves, and what is it worth as boric acid or as B2O3?"""

from typing import Any, Final

from cordwright.base import Cite, InputError, cite, table
from cordwright.base.units import POUND_PER_CUBIC_FOOT

ACTIVES: Final = ("boric acid", "borax", "DOT")
"""The borates of the table; DOT is disodium octaborate tetrahydrate."""


def _row(active: str) -> Any:
    if active not in ACTIVES:
        raise InputError(f"there is no borate {active!r} in the table; known are {', '.join(ACTIVES)}")
    return table("borates")[active]


def borate_sources(active: str) -> tuple[Cite, ...]:
    """Give the sources of a borate's row, none where it is in no row."""
    return tuple(cite(text) for text in _row(active)["sources"]) if active in ACTIVES else ()


def solubility_bounds(active: str, temperature: float) -> tuple[float, float] | None:
    """What surely dissolves and what surely does not, over the water by mass [1]; None outside the printed rows.

    Between two printed temperatures nothing is interpolated: the row below surely dissolves, the row above is the most
    that can.

    Args:
        active: boric acid, borax or DOT.
        temperature: of the water [degC].

    Raises:
        InputError: no such borate.

    Sources: each row of `data/borates.toml` names its own; those of DOT are remembered.
    """
    row = _row(active)
    places, grams = row["temperatures"], row["grams"]
    if not places[0] <= temperature <= places[-1]:
        return None
    below = max(i for i, t in enumerate(places) if t <= temperature)
    above = min(i for i, t in enumerate(places) if t >= temperature)
    return grams[below] / 100, grams[above] / 100


def as_boric_acid(active: str, mass: float) -> float:
    """Boric acid that a mass of a borate is worth [kg].

    Args:
        active: boric acid, borax or DOT.
        mass: of it [kg].

    Raises:
        InputError: no such borate.

    Sources: `borate-equivalents`.
    """
    return mass * float(_row(active)["boric_acid"])


def as_oxide(active: str, mass: float) -> float:
    """B2O3 that a mass of a borate holds [kg].

    Args:
        active: boric acid, borax or DOT.
        mass: of it [kg].

    Raises:
        InputError: no such borate.

    Sources: `borate-equivalents`.
    """
    return mass * float(_row(active)["oxide"])


def retention_targets() -> tuple[float, float]:
    """Published retentions as B2O3 [kg/m3]: out of the rain, and where Formosan termites live.

    Sources: AWPA as a trade magazine quotes it (`awpa-borate-retention`).
    """
    row = table("borates")["retention"]
    return row["usual_lb_per_ft3"] * POUND_PER_CUBIC_FOOT, row["formosan_lb_per_ft3"] * POUND_PER_CUBIC_FOOT
