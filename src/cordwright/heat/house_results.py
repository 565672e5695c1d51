"""What the building loses and needs, and how its year of hours goes."""

from dataclasses import dataclass

from cordwright.base import Caution, Check, Cite, Figure
from cordwright.heat.house_shell import Band, Loss
from cordwright.heat.year_elements import Floats
from cordwright.heat.year_run import YearRun


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What one change to the house would do: loss before and after [W/K], stacked wood saved [m3], None if unknown.

    `words` say the change, with {} where its `amount` stands [`unit`: m, W/mK or W/m2K].
    """

    words: str
    amount: float
    unit: str
    before: float
    after: float
    wood_saved: float | None

    @property
    def name(self) -> str:
        """The change in words, lengths in millimetres."""
        shown = f"{1000 * self.amount:.0f} mm" if self.unit == "m" else f"{self.amount:g} {self.unit}"
        return self.words.format(shown)

    @property
    def share(self) -> float:
        """Of the whole loss that it saves; negative where it costs [1]."""
        return 1 - self.after / self.before


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseYear:
    """A year of hours of this house: `run` of the middle case under `outside` [degC], and what three cases need.

    `season_energy` from the stove [J]. `morning`, `drop`: felt temperature
    before the first fire and fall over the night, each day of the heating season in use [degC, K]. `warm_hours`: hours
    in use that feel too warm, windows opened as stated [h]. By month, January first [J]: `fire`, `sun`, `gains`.
    `mornings_by_month` (low, middle, high) [degC], None where no night counts. `weather`: what it stands on, in
    words; `bridged`: hours of weather filled between neighbours.
    """

    run: YearRun
    outside: Floats
    season_energy: Band
    morning: Band | None
    drop: Band | None
    warm_hours: float
    warm_hours_shut: float
    fire: tuple[float, ...]
    sun: tuple[float, ...]
    gains: tuple[float, ...]
    mornings_by_month: tuple[Band | None, ...]
    fires: int
    extra_fires: int
    weather: str
    bridged: int
    sources: tuple[Cite, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """The building as a thing to be heated: ways out for heat, figures, checks; `year` when its hours were run.

    `missing` names what must be stated before the loss is whole. `changes`: what would change it most, best first.
    """

    losses: tuple[Loss, ...]
    missing: tuple[str, ...]
    changes: tuple[Change, ...]
    year: HouseYear | None
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)

    @property
    def whole(self) -> bool:
        """Whether every way out is known."""
        return not self.missing
