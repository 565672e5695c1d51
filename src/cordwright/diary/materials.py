"""How many batches, bags and log ends does the rest of the wall take, by what it took so far?"""

from collections.abc import Iterator
from math import ceil, floor
from typing import Final

from cordwright.base import Check, Cite, Figure, Step
from cordwright.diary.inputs import Bag, Expected, WholeWall
from cordwright.diary.pace import WALL, area_left, belief_steps, diary_cite
from cordwright.diary.posterior import HIGH, LOW, Observed, Posterior, believe
from cordwright.diary.results import LayingDay

FOR_FACE: Final = "fresh mortar for the face laid, waste included"


def own_mortar(days: tuple[LayingDay, ...], wall: WholeWall, expected: Expected) -> Posterior | None:
    """Fresh mortar to a square metre of wall [m3/m2], as expected and as own batches tell; None without a mix.

    Args:
        days: those on which wall was laid; they count where batches were written too.
        wall: for the volume of a batch.
        expected: what was thought before.
    """
    if expected.mortar is None or wall.batch_volume is None:
        return None
    return believe(
        expected.mortar,
        [Observed(rate=day.batches * wall.batch_volume / day.area) for day in days if day.batches and day.area > 0],
    )


def own_logs(days: tuple[LayingDay, ...], expected: Expected) -> Posterior | None:
    """Log ends to a square metre of wall [1/m2], as expected and as own marks tell; None without a stock."""
    if expected.logs is None:
        return None
    return believe(expected.logs, [Observed(rate=d.logs / d.marked) for d in days if d.logs and d.marked > 0])


def material_figures(
    days: tuple[LayingDay, ...], mortar: Posterior | None, logs: Posterior | None, wall: WholeWall, expected: Expected
) -> Iterator[Figure]:
    """What the rest of the wall takes: mortar to a square metre, batches, bags and log ends left."""
    left, cite = area_left(days, wall), diary_cite(days)
    if mortar is None or expected.mortar is None or wall.batch_volume is None:
        yield from _no_mortar(cite)
    else:
        yield _mortar_figure(mortar, expected.mortar.source, cite)
        sources = (cite, expected.mortar.source, *mortar.cites)
        yield _left_figure(
            "diary.batches_left", "batches of mortar left", left, mortar, each=1 / wall.batch_volume, sources=sources
        )
        yield _bags_figure(left, mortar, wall.bags, sources)
    if logs is None or expected.logs is None:
        missing = ("the stock of log ends",)
        yield _unknown("diary.logs_left", "log ends that the rest of the wall takes", missing, cite)
    else:
        sources = (cite, expected.logs.source, *logs.cites)
        yield _left_figure(
            "diary.logs_left", "log ends that the rest of the wall takes", left, logs, each=1.0, sources=sources
        )


def _no_mortar(cite: Cite) -> Iterator[Figure]:
    missing = ("the mix with its bucket",)
    yield _unknown("diary.mortar_per_area", FOR_FACE, missing, cite, "m3/m2")
    yield _unknown("diary.batches_left", "batches of mortar left", missing, cite)
    yield _unknown("diary.bags_left", "bags of binder left", missing, cite)


def _unknown(key: str, label: str, missing: tuple[str, ...], cite: Cite, unit: str = "") -> Figure:
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=(cite,))


def _mortar_figure(mortar: Posterior, expected: Cite, cite: Cite) -> Figure:
    return Figure(
        key="diary.mortar_per_area",
        label=FOR_FACE,
        value=mortar.mean,
        low=min(mortar.mean, mortar.quantile(LOW)),
        high=max(mortar.mean, mortar.quantile(HIGH)),
        unit="m3/m2",
        sources=(cite, expected, *mortar.cites),
        steps=belief_steps(mortar, "m3/m2"),
    )


def _left_figure(
    key: str, label: str, left: float, rate: Posterior, *, each: float, sources: tuple[Cite, ...]
) -> Figure:
    """So many of something for the rest of the wall: the middle, and four chances in five."""
    return Figure(
        key=key,
        label=label,
        value=left * rate.median * each,
        low=left * rate.quantile(LOW) * each,
        high=left * rate.quantile(HIGH) * each,
        unit="",
        sources=sources,
        steps=(
            Step(symbol="wall still to lay", value=left, unit="m2", source=WALL),
            Step(symbol="to a square metre", value=rate.median * each, unit="", formula="middle of the belief"),
            Step(symbol="carried by own days", value=rate.own, unit="1"),
        ),
    )


def _bags_figure(left: float, mortar: Posterior, bags: tuple[Bag, ...], sources: tuple[Cite, ...]) -> Figure:
    label = "bags of binder that the rest of the wall takes"
    if not bags:
        return _unknown("diary.bags_left", label, ("the mass of a bag in the mix",), sources[0])
    each = sum(bag.per_volume for bag in bags)
    figure = _left_figure("diary.bags_left", label, left, mortar, each=each, sources=sources)
    kinds = (
        Step(symbol=f"of it {bag.name}", value=left * mortar.median * bag.per_volume, unit="", formula="bags")
        for bag in bags
    )
    return Figure(
        key=figure.key,
        label=figure.label,
        value=figure.value,
        low=figure.low,
        high=figure.high,
        unit="",
        sources=sources,
        steps=(*figure.steps, *kinds),
    )


def stock_check(days: tuple[LayingDay, ...], logs: Posterior | None, wall: WholeWall) -> Iterator[Check]:
    """Whether the log ends at hand reach to the end of the wall; the last two panels are where they run out."""
    if logs is None or wall.stock is None:
        return
    left, cite = area_left(days, wall), diary_cite(days)
    laid = sum(d.logs for d in days) + sum(d.area - d.marked for d in days) * logs.median
    yield Check(
        key="diary.log_ends",
        label="log ends at hand for the rest of the wall",
        demand=float(ceil(left * logs.median)),
        low=float(ceil(left * logs.quantile(LOW))),
        high=float(ceil(left * logs.quantile(HIGH))),
        capacity=float(max(0, floor(wall.stock - laid))),
        unit="",
        sources=(cite, *logs.cites),
        steps=(
            Step(symbol="in the stock, culls left out", value=wall.stock, unit=""),
            Step(symbol="laid so far", value=float(laid), unit="", formula="marks counted, else by the area laid"),
        ),
    )
