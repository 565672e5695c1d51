"""What do one cubic metre and one batch of the owner's mix come to?"""

from cordwright.base import Caution, Cite, Figure, InputError, Step, caution
from cordwright.mortar.inputs import MortarInput
from cordwright.mortar.materials import LooseMaterial, bulking_of, moisture_of, part_sources
from cordwright.mortar.pats import judged_class, pat_check
from cordwright.mortar.pot_life import pot_life_figure
from cordwright.mortar.proportions import Proportions, proportion_class, proportions
from cordwright.mortar.results import Mix, PartAmount
from cordwright.mortar.spread import Spread
from cordwright.mortar.yields import LooseMix, air_share, loose_mix, yield_ratio, yield_sources


def reckon_mix(mortar: MortarInput) -> Mix:
    """Work out the mix: yield, masses in one cubic metre, water, one batch.

    Args:
        mortar: the owner's mix, without errors (see `find_faults`).

    Raises:
        InputError: no parts, no binder or no sand.
    """
    _refuse_no_mortar(mortar)
    mix = loose_mix(mortar)
    ratio = yield_ratio(mortar, mix)
    shares = proportions(mix.materials)
    water = mix.added / (ratio * mix.volume)
    figures = (
        _yield_figure(mortar, mix, ratio, shares),
        _batch_volume(mortar, mix, ratio),
        _batch_water(mortar, mix),
        _binder_to_sand(shares, mortar),
        pot_life_figure(mortar),
    )
    return Mix(
        yield_ratio=ratio.middle,
        yield_low=ratio.low,
        yield_high=ratio.high,
        amounts=tuple(_amount(m, ratio.middle * mix.volume) for m in mix.materials),
        water=water.middle,
        water_low=water.low,
        water_high=water.high,
        batch_volume=figures[1].value if isinstance(figures[1].value, float) else None,
        binder_to_sand=shares.binder / shares.sand,
        proportion_class=judged_class(proportion_class(shares), mortar),
        figures=figures,
        checks=(pat_check(mortar),),
        cautions=_cautions(mortar),
    )


def _refuse_no_mortar(mortar: MortarInput) -> None:
    kinds = {p.kind for p in mortar.parts if p.parts > 0}
    if "sand" not in kinds or not kinds & {"cement", "lime", "pre-blended"}:
        raise InputError("a mortar needs a binder and sand")


def _amount(material: LooseMaterial, fresh: float) -> PartAmount:
    """One material in one cubic metre of mortar when the whole mix makes `fresh` cubic metres."""
    loose = material.part.parts / fresh
    return PartAmount(
        part=material.part,
        dry_mass=loose * material.dry,
        delivered_mass=loose * (material.dry + material.water),
        loose_volume=loose,
        cement_mass=loose * material.cement,
        lime_mass=loose * material.lime,
    )


def _yield_figure(mortar: MortarInput, mix: LooseMix, ratio: Spread, shares: Proportions) -> Figure:
    low, high = ratio.ends
    return Figure(
        key="mortar.yield",
        label="fresh mortar over the sum of the loose parts",
        value=ratio.middle,
        low=low,
        high=high,
        unit="1",
        sources=yield_sources(mortar, mix),
        steps=(*_yield_steps(mortar, mix), *_sand_step(ratio.middle * mix.volume, shares)),
    )


def _yield_steps(mortar: MortarInput, mix: LooseMix) -> tuple[Step, ...]:
    """The working by absolute volumes; nothing but the owner's word when they measured it."""
    if mortar.measured_yield is not None:
        measured = Cite("owner", "mix.measured_yield")
        return (Step(symbol="measured yield", value=mortar.measured_yield, unit="1", formula="typed", source=measured),)
    closed = Cite("absolute-volumes")
    return (
        *(_part_step(m) for m in mix.materials),
        Step(symbol="loose parts", value=mix.volume, unit="m3", formula="one loose cubic metre to a part"),
        Step(symbol="grains", value=mix.grains, unit="m3", formula="dry masses over grain densities", source=closed),
        Step(
            symbol="room of the soaked fibre",
            value=mix.fibre_room.middle,
            unit="m3",
            formula="halfway between its soaked particles and its loose volume",
            source=Cite("soaked-fibre-room"),
        ),
        Step(
            symbol="all water",
            value=mix.water.middle,
            unit="kg",
            formula="shares of binder and of sand by two worked mixes; never less than sand and putty bring",
            source=Cite("mortar-water-plane"),
        ),
        Step(
            symbol="air",
            value=air_share(mortar).middle,
            unit="1",
            formula="share of the fresh mortar",
            source=Cite("owner", "mix.air") if mortar.air is not None else Cite("mortar-air"),
        ),
        Step(
            symbol="yield",
            value=yield_ratio(mortar, mix).middle,
            unit="1",
            formula="(grains + fibre + water) / (1 - air) / loose parts",
            source=closed,
        ),
    )


def _part_step(material: LooseMaterial) -> Step:
    part = material.part
    return Step(
        symbol=part.name,
        value=part.parts * material.dry,
        unit="kg",
        formula=f"{part.parts:g} loose m3 of {part.form}, dry mass",
        source=part_sources(part)[0],
    )


def _sand_step(fresh: float, shares: Proportions) -> tuple[Step, ...]:
    """The rule of thumb beside the yield; it speaks of mortar without fibre only."""
    if shares.fibre:
        return ()
    return (
        Step(
            symbol="fresh mortar over damp loose sand",
            value=fresh / shares.sand,
            unit="1",
            formula="beside it: almost one measure of damp loose sand to one of mortar",
            source=Cite("pca-sand-1993", "p. 17"),
        ),
    )


def _batch_volume(mortar: MortarInput, mix: LooseMix, ratio: Spread) -> Figure:
    key, label = "mortar.batch_volume", "fresh mortar from one batch"
    if mortar.bucket is None:
        return _no_bucket(key, label, "m3")
    volume = ratio * (mix.volume * mortar.bucket)
    low, high = volume.ends
    step = Step(
        symbol="buckets in a batch", value=mix.volume, unit="", formula="yield x sum of the parts x bucket volume"
    )
    sources = (Cite("owner", "mix.bucket"), *yield_sources(mortar, mix))
    return Figure(
        key=key, label=label, value=volume.middle, low=low, high=high, unit="m3", sources=sources, steps=(step,)
    )


def _batch_water(mortar: MortarInput, mix: LooseMix) -> Figure:
    key, label = "mortar.water_per_batch", "water to add to one batch (1 kg is 1 litre), last and in small steps"
    if mortar.bucket is None:
        return _no_bucket(key, label, "kg")
    added, source = mix.added * mortar.bucket, Cite("mortar-water-plane")
    demand, carried = mix.water.middle * mortar.bucket, mix.carried * mortar.bucket
    low, high = added.ends
    return Figure(
        key=key,
        label=label,
        value=added.middle,
        low=low,
        high=high,
        unit="kg",
        sources=(source, Cite("owner", "mix.bucket"), *_water_bringers(mix)),
        steps=(
            Step(symbol="all water", value=demand, unit="kg", formula="by binder and sand", source=source),
            Step(symbol="brought", value=carried, unit="kg", formula="moisture of the sand, water of the putty"),
            Step(
                symbol="to add", value=added.middle, unit="kg", formula="all water - brought; soaked fibre has its own"
            ),
        ),
    )


def _water_bringers(mix: LooseMix) -> tuple[Cite, ...]:
    return tuple(dict.fromkeys(c for m in mix.materials if m.water for c in part_sources(m.part)))


def _no_bucket(key: str, label: str, unit: str) -> Figure:
    return Figure(
        key=key,
        label=label,
        value=None,
        unit=unit,
        bound="unknown",
        missing=("the bucket's volume",),
        sources=(Cite("owner", "mix.bucket"),),
    )


def _binder_to_sand(shares: Proportions, mortar: MortarInput) -> Figure:
    source = Cite("astm-c270-memory", "proportions")
    return Figure(
        key="mortar.binder_to_sand",
        label=f"binder over damp loose sand by volume ({judged_class(proportion_class(shares), mortar)})",
        value=shares.binder / shares.sand,
        unit="1",
        sources=(Cite("owner", "mix.parts"), source),
        steps=(
            Step(symbol="cement", value=shares.cement, unit="", formula="parts of powder", source=source),
            Step(symbol="lime", value=shares.lime, unit="", formula="parts of powder, putty by its dry lime"),
            Step(symbol="sand", value=shares.sand, unit="", formula="parts of damp loose sand"),
        ),
    )


def _cautions(mortar: MortarInput) -> tuple[Caution, ...]:
    kinds = {p.kind for p in mortar.parts}
    keys = ["alkali-burns", "silica-dust"]
    keys += ["wood-sugar"] if "fibre" in kinds else []
    keys += ["dirty-sand"] if "sand" in kinds else []
    return tuple(caution(k) for k in keys)


def dry_loose_volume(amount: PartAmount) -> float:
    """Volume the sand of a part takes when dry and loose [m3]."""
    return amount.loose_volume / (bulking_of(amount.part) if amount.part.form == "damp sand" else 1.0)


def damp_loose_volume(amount: PartAmount) -> float:
    """Volume the sand of a part takes when damp and loose [m3]: the dry volume times the bulking, nothing else."""
    return dry_loose_volume(amount) * bulking_of(amount.part)


def damp_mass(amount: PartAmount) -> float:
    """Mass of the sand of a part when damp [kg]."""
    return amount.dry_mass * (1.0 + moisture_of(amount.part))
