"""A day with helpers: who does what, how much is mixed, when does mixing stop?

Mortar that is left when everyone goes home is thrown out, and fresh work that is not covered is lost. So the day is
counted back from its end: cover up, then no laying; the last batch early enough to be used up before that.
"""

from dataclasses import dataclass, replace
from typing import Final

from cordwright.base import Cite, InputError, Step
from cordwright.diary.posterior import HIGH, LOW, Posterior
from cordwright.mortar import MortarInput
from cordwright.mortar.pot_life import last_batch

COVER_UP: Final = 0.5
"""Time to scratch back, cover and wash [h]: common practice (`helper-day-practice`)."""
PRACTICE: Final = Cite("helper-day-practice", "roles and half an hour to cover and wash")
POT_LIFE: Final = Cite("pot-life-practice", "90 min to 2.5 h")

ROLES: Final[tuple[tuple[str, str], ...]] = (
    ("lays", "sets the log ends, both faces plumb, and decides"),
    ("mixes", "mixes, carries, counts the batches with strokes"),
    ("fills", "fills the cavity, keeps droppings out of it"),
    ("points", "points both faces behind the layer, brushes log ends clean"),
    ("hands on", "brings log ends in their order, cleans, wets what is dry"),
)
"""Who does what, in the order in which hands are added: common practice (`helper-day-practice`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HelperDay:
    """A day with helpers, counted back from its end.

    `area`: wall that so many hands may lay [m2], low, middle, high; `batches` for it likewise, None without a mix.
    `lay_until`: when laying stops [h of day]; `last_early`, `last_late`: when the last batch is mixed, by the longer
    and the shorter time a batch lasts (both alike with the bag's own), None when no end of the day is known.
    """

    people: int
    roles: tuple[tuple[str, str], ...]
    hours: float
    area: tuple[float, float, float]
    batches: tuple[float, float, float] | None
    end: float | None
    cover_up: float
    lay_until: float | None
    last_early: float | None
    last_late: float | None
    steps: tuple[Step, ...]
    sources: tuple[Cite, ...]


def plan_helper_day(
    mortar: MortarInput,
    pace: Posterior,
    mortar_per_area: Posterior | None,
    *,
    people: int,
    hours: float,
    day_hours: float,
    end: float | None = None,
    cover_up: float = COVER_UP,
    batch_volume: float | None = None,
) -> HelperDay:
    """Work out a day with helpers.

    Args:
        mortar: the mix as stated, for its pot life; its `stop` is when laying stops where `end` is not said.
        pace: of one person in a usual day [m2/day].
        mortar_per_area: fresh mortar to a square metre [m3/m2], None without a mix.
        people: how many hands, the owner among them.
        hours: how long each works [h].
        day_hours: a usual day, to which the pace belongs [h].
        end: when everyone goes home [h of day].
        cover_up: from the last log end to going home [h].
        batch_volume: fresh mortar of one batch [m3].

    Raises:
        InputError: no hands, no hours, or a cover-up longer than the day.

    Sources: `pot-life-practice` without the bag's own time; `helper-day-practice`.
    """
    if people < 1 or not 0 < hours <= 24 or not 0 <= cover_up < hours:
        raise InputError("a day has at least one pair of hands, hours to work, and a cover-up shorter than the day")
    lay_until = mortar.stop if end is None else end - cover_up
    times = last_batch(replace(mortar, stop=lay_until)) if lay_until is not None else None
    whole = people * (hours - cover_up) / day_hours
    area = (pace.quantile(LOW) * whole, pace.median * whole, pace.quantile(HIGH) * whole)
    return HelperDay(
        people=people,
        roles=ROLES[:people],
        hours=hours,
        area=area,
        batches=_batches(area, mortar_per_area, batch_volume),
        end=end,
        cover_up=cover_up,
        lay_until=lay_until,
        last_early=times[0] if times else None,
        last_late=times[1] if times else None,
        steps=_steps(pace, whole, lay_until),
        sources=(PRACTICE, *(() if mortar.pot_life is not None else (POT_LIFE,)), *pace.cites),
    )


def _batches(
    area: tuple[float, float, float], rate: Posterior | None, volume: float | None
) -> tuple[float, float, float] | None:
    if rate is None or volume is None:
        return None
    return (area[0] * rate.median / volume, area[1] * rate.median / volume, area[2] * rate.median / volume)


def _steps(pace: Posterior, whole: float, lay_until: float | None) -> tuple[Step, ...]:
    return (
        Step(symbol="pace of one", value=pace.median, unit="m2/day", formula="middle of the belief"),
        Step(symbol="usual days worked together", value=whole, unit="d", formula="hands x hours less cover-up / day"),
        Step(symbol="laying stops", value=lay_until, unit="h", formula="end of the day less cover-up", source=PRACTICE),
    )
