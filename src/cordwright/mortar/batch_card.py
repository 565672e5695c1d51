"""What goes into the tub, in which order, for how long, and when is it right?

The order is that of a paddle on a drill: common practice, no source. A drum only rolls such a stiff mix into balls.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cordwright.base import Cite, table
from cordwright.mortar.batch import whole_up
from cordwright.mortar.inputs import Kind, MixPart, MortarInput
from cordwright.mortar.results import Mix

PADDLE: Final = Cite("paddle-practice", "common practice, no source")
MACHINE: Final = Cite("machine-mixing-memory", "3 to 5 min")
BALL: Final = Cite("ball-test", "common practice, no source")
BINDERS: Final[tuple[Kind, ...]] = ("cement", "lime", "pre-blended")

BALL_TEST: Final = (
    "Go or no go: press a ball the size of your fist, open the hand. It holds its shape: go. It slumps: too wet, add "
    "binder and sand by their parts. It cracks: too dry, water by the cup."
)
GEAR: Final = (
    "Two layers of gloves, thin under waterproof; goggles; long sleeves. Tip bags low and slowly behind a mask that "
    "fits (P100, FFP3). Clean water for eyes beside the tub."
)
FIRST_AID: Final = "On the skin: clean water for 20 minutes. In the eye: rinse, go on rinsing, and go to hospital."
NO_DRUM: Final = "a drum would roll this mix into balls"
NO_WATER_LATER: Final = "Once it stiffens add no water: what has begun to set is thrown out."


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One part of the batch as it goes into one tub: its name, and how many buckets of it."""

    part: MixPart
    count: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadStep:
    """One step of loading: what goes in, in buckets or litres, and how long the paddle turns [s], 0 for not."""

    words: str
    loads: tuple[Load, ...] = ()
    water: float = 0.0
    seconds: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchCard:
    """One batch for one tub. `goes`: into how many tubs the stated parts are divided; `loads`: of one of them.

    `water_low`, `water`, `water_high`: in all [kg, that is litres], None without a bucket. `machine_minutes`: what a
    mixer's habit is beside the paddle's seconds.
    """

    goes: int
    loads: tuple[Load, ...]
    steps: tuple[LoadStep, ...]
    water_low: float | None
    water: float | None
    water_high: float | None
    volume: float | None
    machine_minutes: tuple[float, float]


def batch_card(mortar: MortarInput, mix: Mix) -> BatchCard:
    """Divide the stated parts over tubs and put them in the order of loading.

    Args:
        mortar: the mix, without errors.
        mix: the mix worked out.

    Sources: common practice (`paddle-practice`): half the water, all binder, three quarters to five sixths of the
    aggregate, 20 s, the rest, 20 s, water by the cup.
    """
    goes = tubs(mortar)
    loads = tuple(Load(part=p, count=p.parts / goes) for p in mortar.parts)
    figure = mix.figure("mortar.water_per_batch")
    low, middle, high = (v / goes if isinstance(v, float) else None for v in (figure.low, figure.value, figure.high))
    least, most = table("curing")["batch"]["machine_minutes"]
    return BatchCard(
        goes=goes,
        loads=loads,
        steps=_steps(loads, low if low is not None else middle),
        water_low=low,
        water=middle,
        water_high=high,
        volume=None if mix.batch_volume is None else mix.batch_volume / goes,
        machine_minutes=(float(least), float(most)),
    )


def tubs(mortar: MortarInput) -> int:
    """Into how many tubs one stated batch is divided: 1 where bucket or container is not stated.

    Loose parts fill more than the mortar they make, and all of them must find room in the container.
    """
    if mortar.bucket is None or mortar.container is None:
        return 1
    return max(1, whole_up(sum(p.parts for p in mortar.parts) * mortar.bucket / mortar.container))


def first_share(count: float) -> float:
    """How many buckets of an aggregate go in first: the plainest number in three quarters to five sixths [1].

    Args:
        count: buckets of it in the batch.
    """
    low, high = (count * float(share) for share in table("curing")["batch"]["first_aggregate"])
    for below in (1, 2, 4):
        plain = round(count * 0.79 * below) / below
        if low - 1e-9 <= plain <= high + 1e-9:
            return plain
    return low


def _steps(loads: Iterable[Load], least_water: float | None) -> tuple[LoadStep, ...]:
    row = table("curing")["batch"]
    binder = tuple(x for x in loads if x.part.kind in BINDERS)
    aggregate = tuple(x for x in loads if x.part.kind not in BINDERS)
    first = tuple(Load(part=x.part, count=first_share(x.count)) for x in aggregate)
    rest = tuple(Load(part=x.part, count=x.count - first_share(x.count)) for x in aggregate)
    water = 0.0 if least_water is None else least_water * float(row["first_water"])
    turn = float(row["seconds"])
    return (
        LoadStep(words="water, a part", water=water),
        LoadStep(words="all the binder", loads=binder),
        LoadStep(words="most of the aggregate", loads=first, seconds=turn),
        LoadStep(words="the rest of it", loads=rest, seconds=turn),
        LoadStep(words="the last water by the cup, until the ball holds"),
    )
