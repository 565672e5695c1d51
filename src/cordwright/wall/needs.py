"""What must be bought and mixed for the whole wall's mortar: cement, lime, sand, fibre, water, bags and batches?"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from cordwright.base import Cite, Figure, Step
from cordwright.mortar import (
    Kind,
    Mix,
    PartAmount,
    Spread,
    batches,
    damp_loose_volume,
    damp_mass,
    dry_loose_volume,
    part_sources,
    whole_up,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One thing the mortar takes: the figure's key, its words, its unit and how much of it a part brings.

    `kinds`: the parts that hold it.
    """

    key: str
    label: str
    unit: str
    kinds: tuple[Kind, ...]
    of: Callable[[PartAmount], float]


NEEDS: Final = (
    Need(
        key="mortar.cement",
        label="cement",
        unit="kg",
        kinds=("cement", "pre-blended"),
        of=lambda a: a.cement_mass,
    ),
    Need(
        key="mortar.lime",
        label="lime as dry hydrate",
        unit="kg",
        kinds=("lime", "pre-blended"),
        of=lambda a: a.lime_mass,
    ),
    Need(key="mortar.dry_sand", label="sand, dry mass", unit="kg", kinds=("sand",), of=lambda a: a.dry_mass),
    Need(key="mortar.damp_sand_mass", label="sand with its moisture", unit="kg", kinds=("sand",), of=damp_mass),
    Need(key="mortar.damp_sand_volume", label="sand, damp and loose", unit="m3", kinds=("sand",), of=damp_loose_volume),
    Need(key="mortar.dry_sand_volume", label="sand, dry and loose", unit="m3", kinds=("sand",), of=dry_loose_volume),
    Need(
        key="mortar.fibre_volume",
        label="fibre, soaked and loose",
        unit="m3",
        kinds=("fibre",),
        of=lambda a: a.loose_volume,
    ),
)

BLENDED: Final = Need(
    key="mortar.preblended",
    label="blended cement and lime as it comes",
    unit="kg",
    kinds=("pre-blended",),
    of=lambda a: a.delivered_mass,
)

BAGS: Final[tuple[tuple[str, str, Kind], ...]] = (
    ("mortar.cement_bags", "bags of cement", "cement"),
    ("mortar.lime_bags", "bags of lime", "lime"),
    ("mortar.preblended_bags", "bags of blended cement and lime", "pre-blended"),
)

FRACTION: Final = Cite("owner", "wall.wood_fraction")


def mortar_needs(volume: Spread, mix: Mix | None, basis: Cite = FRACTION) -> tuple[Figure, ...]:
    """All the mortar takes, with the spread of the wood fraction and of the yield together.

    Args:
        volume: fresh mortar to mix, waste included [m3].
        mix: the mix worked out, None when the owner has stated none.
        basis: what the volume rests on, the planned wood fraction or the layout.
    """
    if mix is None:
        return tuple(_no_mix())
    needs = NEEDS if not any(a.part.kind == "pre-blended" for a in mix.amounts) else (*NEEDS, BLENDED)
    figures = (_need_figure(need, volume, mix, basis) for need in needs)
    return (*figures, _water(volume, mix, basis), _batches(volume, mix, basis), *_bags(volume, mix, basis))


def _no_mix() -> Iterator[Figure]:
    for need in NEEDS:
        yield _unknown(need.key, need.label, need.unit, "the mix")
    yield _unknown("mortar.water", "water to add (1 kg is 1 litre)", "kg", "the mix")
    yield _unknown("mortar.batches", "batches", "", "the mix")


def _unknown(key: str, label: str, unit: str, missing: str) -> Figure:
    sources = (Cite("owner", "mix"),)
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=(missing,), sources=sources)


def per_cubic_metre(amount: float, mix: Mix) -> Spread:
    """An amount in one cubic metre of mortar with the spread of the yield: less mortar from a batch, more of each.

    Args:
        amount: at the middle yield, any unit.
        mix: the mix worked out.
    """
    parts = Spread(mix.yield_low, mix.yield_ratio, mix.yield_high)
    return Spread.exact(amount * mix.yield_ratio) / parts


def _need_figure(need: Need, volume: Spread, mix: Mix, basis: Cite) -> Figure:
    parts = [a for a in mix.amounts if a.part.kind in need.kinds]
    each = math.fsum(need.of(a) for a in parts)
    whole = volume * per_cubic_metre(each, mix)
    low, high = whole.ends
    said = dict.fromkeys(c for a in parts for c in part_sources(a.part))
    return Figure(
        key=need.key,
        label=need.label,
        value=whole.middle,
        low=low,
        high=high,
        unit=need.unit,
        sources=(*said, *mix.figure("mortar.yield").sources, basis),
        steps=_need_steps(need, volume, each, whole.middle),
    )


def _need_steps(need: Need, volume: Spread, each: float, whole: float) -> tuple[Step, ...]:
    return (
        Step(symbol="mortar", value=volume.middle, unit="m3", formula="waste included"),
        Step(symbol="in one m3 of mortar", value=each, unit=need.unit, formula="parts x loose density / yield"),
        Step(symbol=need.label, value=whole, unit=need.unit, formula="mortar x amount in one m3"),
    )


def _water(volume: Spread, mix: Mix, basis: Cite) -> Figure:
    whole = volume * Spread(mix.water_low, mix.water, mix.water_high)
    low, high = whole.ends
    return Figure(
        key="mortar.water",
        label="water to add (1 kg is 1 litre)",
        value=whole.middle,
        low=low,
        high=high,
        unit="kg",
        sources=(Cite("mortar-water-plane", "less what sand and putty bring"), basis),
        steps=(
            Step(symbol="mortar", value=volume.middle, unit="m3", formula="waste included"),
            Step(symbol="water to add in one m3", value=mix.water, unit="kg", formula="all water - brought"),
        ),
    )


def _batches(volume: Spread, mix: Mix, basis: Cite) -> Figure:
    if mix.batch_volume is None:
        return _unknown("mortar.batches", "batches", "", "the bucket's volume")
    batch = Spread(mix.yield_low, mix.yield_ratio, mix.yield_high) * (mix.batch_volume / mix.yield_ratio)
    count = volume / batch
    return Figure(
        key="mortar.batches",
        label="batches, the last one whole",
        value=float(batches(volume.middle, mix.batch_volume)),
        low=float(whole_up(count.low)),
        high=float(whole_up(count.high)),
        unit="",
        sources=(*mix.figure("mortar.batch_volume").sources, basis),
        steps=(
            Step(symbol="mortar", value=volume.middle, unit="m3", formula="waste included"),
            Step(symbol="one batch", value=mix.batch_volume, unit="m3", formula="yield x parts x bucket"),
            Step(symbol="batches", value=count.middle, unit="", formula="mortar / one batch, then rounded up"),
        ),
    )


def _bags(volume: Spread, mix: Mix, basis: Cite) -> Iterator[Figure]:
    for key, label, kind in BAGS:
        parts = [a for a in mix.amounts if a.part.kind == kind and a.part.form != "putty"]
        sizes = {a.part.bag for a in parts}
        if len(sizes) == 1 and None not in sizes:
            yield _bag_figure(key, label, volume, mix, parts, basis=basis)


def _bag_figure(key: str, label: str, volume: Spread, mix: Mix, parts: list[PartAmount], *, basis: Cite) -> Figure:
    bag = parts[0].part.bag
    assert bag is not None
    count = volume * per_cubic_metre(math.fsum(a.delivered_mass for a in parts), mix) / bag
    return Figure(
        key=key,
        label=f"{label}, {bag:g} kg each",
        value=float(whole_up(count.middle)),
        low=float(whole_up(count.low)),
        high=float(whole_up(count.high)),
        unit="",
        sources=(Cite("order-rounding"), Cite("owner", f"mix: {parts[0].part.name}, bag"), basis),
        steps=(
            Step(symbol="mass", value=count.middle * bag, unit="kg", formula="mortar x mass in one m3"),
            Step(symbol="bags", value=count.middle, unit="", formula="mass / bag, then rounded up"),
        ),
    )
