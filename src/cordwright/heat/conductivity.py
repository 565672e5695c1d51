"""How well does each material of the wall lead heat, and how sure is that?

Conductivities in W/(m K). What the owner states is taken as it is; else wood goes by its density and moisture, mortar
by its fibre, fill by its table row, each with the spread its source gives.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cordwright.base import Cite, OutOfRangeError, Step, cite, table
from cordwright.mortar import Mix

HANDBOOK: Final = Cite("wood-handbook-2010", "Eq. 4-15")
SCATTER: Final = Cite("wood-heat-scatter", "chapter 4")
ERRORS: Final = Cite("independent-errors")
ALONG_LOW, ALONG, ALONG_HIGH = 1.5, 1.8, 2.8
"""Conductivity along over across the grain [1] (`wood-heat-scatter`)."""
WOODS_DIFFER: Final = 0.20
"""Share by which woods of one density scatter (`wood-heat-scatter`)."""
MOST_MOISTURE: Final = 0.25
LEAST_GRAVITY: Final = 0.3
SATURATION: Final = 0.30
WATER: Final = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductivity:
    """What one material leads [W/(m K)], with its low and high, its heat capacity [J/(m3 K)] and where they come from.

    `along`: for wood, the value along the grain when `value` is across; None for what leads alike in every direction.
    """

    label: str
    value: float
    low: float
    high: float
    heat_capacity: float = 0.0
    sources: tuple[Cite, ...] = ()
    steps: tuple[Step, ...] = ()

    @property
    def spread(self) -> tuple[float, float]:
        """How far the low and the high lie from the value, as factors [1]."""
        return self.low / self.value, self.high / self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class WallMaterials:
    """What the wall is made of, as far as heat goes; `fill` is None in a solid joint."""

    along: Conductivity
    across: Conductivity
    mortar: Conductivity
    fill: Conductivity | None


def gravity_at(basic_gravity: float, volumetric: float, moisture: float) -> float:
    """Specific gravity of wood at a moisture content, oven-dry mass over volume there [1].

    Args:
        basic_gravity: oven-dry mass over green volume, water = 1 [1].
        volumetric: shrinkage of the volume, green to oven-dry [1].
        moisture: water over oven-dry mass [1].

    Sources: Wood Handbook 2010, Eq. 4-7 and 4-9; fibre saturation at 30 %.
    """
    return basic_gravity / (1 - volumetric * max(0.0, 1 - moisture / SATURATION))


def across_grain(gravity: float, moisture: float) -> float:
    """Conductivity of wood across the grain [W/(m K)], near 24 degC.

    Args:
        gravity: specific gravity at that moisture [1], over 0.3.
        moisture: water over oven-dry mass [1], under 0.25.

    Raises:
        OutOfRangeError: a wood outside these.

    Sources: Wood Handbook 2010, Eq. 4-15.
    """
    if not (gravity > LEAST_GRAVITY and 0 <= moisture < MOST_MOISTURE):
        raise OutOfRangeError(
            f"the conductivity of wood is known over a specific gravity of {LEAST_GRAVITY:g} and under "
            f"{MOST_MOISTURE:.0%} of moisture, not at {gravity:.2f} and {moisture:.0%}"
        )
    return gravity * (0.1941 + 0.004064 * 100 * moisture) + 0.01864


def specific_heat_of_wood(moisture: float, temperature: float = 293.15) -> float:
    """Specific heat of wood [J/(kg K)] over the mass of wood and water together.

    Args:
        moisture: water over oven-dry mass [1].
        temperature: [K].

    Sources: Wood Handbook 2010, Eq. 4-16 to 4-18.
    """
    percent = 100 * moisture
    dry = 0.1031 + 0.003867 * temperature
    bound = percent * (-0.06191 + 2.36e-4 * temperature - 1.33e-4 * percent)
    return 1000 * ((dry + 4.18 * moisture) / (1 + moisture) + bound)


def _joined(*factors: float) -> float:
    """One factor in place of several independent ones."""
    return math.exp(math.hypot(*(math.log(f) for f in factors)))


def wood_conductivity(gravity: float, moisture: float) -> tuple[Conductivity, Conductivity]:
    """Conductivity of a wood across and along its grain, with their published spread.

    Args:
        gravity: specific gravity at that moisture [1].
        moisture: water over oven-dry mass [1].

    Raises:
        OutOfRangeError: outside the range of the source.

    Sources: Wood Handbook 2010: Eq. 4-15, 20 % scatter, along the grain 1.5 to 2.8 times across, 1.8 on average.
    """
    across = across_grain(gravity, moisture)
    capacity = gravity * WATER * (1 + moisture) * specific_heat_of_wood(moisture)
    steps = (
        Step(symbol="specific gravity of the wood", value=gravity, unit="1", source=HANDBOOK),
        Step(symbol="moisture of the wood", value=moisture, unit="1", formula="in service"),
        Step(
            symbol="across the grain",
            value=across,
            unit="W/mK",
            formula="gravity x (0.1941 + 0.4064 x moisture) + 0.01864",
            source=HANDBOOK,
        ),
    )
    along = Step(
        symbol="along the grain", value=ALONG * across, unit="W/mK", formula="1.8 x across, 1.5 to 2.8", source=SCATTER
    )
    less, more = 1 - WOODS_DIFFER, 1 + WOODS_DIFFER
    return (
        Conductivity(
            label="wood across the grain",
            value=across,
            low=across * less,
            high=across * more,
            heat_capacity=capacity,
            sources=(HANDBOOK, SCATTER),
            steps=steps,
        ),
        Conductivity(
            label="wood along the grain",
            value=ALONG * across,
            low=ALONG * across / _joined(ALONG / ALONG_LOW, 1 / less),
            high=ALONG * across * _joined(ALONG_HIGH / ALONG, more),
            heat_capacity=capacity,
            sources=(HANDBOOK, SCATTER, ERRORS),
            steps=(*steps, along),
        ),
    )


def row(*path: str) -> Conductivity:
    """A material of the packaged table, `fill`, "sawdust" say.

    Sources: each row of `data/conductivity.toml` names its own.
    """
    found = table("conductivity")
    for name in path:
        found = found[name]
    sources = tuple(cite(s) for s in found["sources"])
    value = float(found["conductivity"])
    return Conductivity(
        label=found["label"],
        value=value,
        low=float(found["low"]),
        high=float(found["high"]),
        heat_capacity=float(found.get("density", 0.0)) * float(found.get("specific_heat", 0.0)),
        sources=sources,
        steps=(Step(symbol=found["label"], value=value, unit="W/mK", source=sources[0]),),
    )


def known_fills() -> tuple[str, ...]:
    """The loose fills of the packaged table, by the words the owner writes."""
    return tuple(table("conductivity")["fill"])


def stated(label: str, value: float, where: str, capacity: float = 0.0) -> Conductivity:
    """What the owner states of a material, taken without spread.

    Args:
        label: the material.
        value: [W/(m K)].
        where: the key it stands under.
        capacity: its heat capacity [J/(m3 K)].
    """
    source = Cite("owner", where)
    step = Step(symbol=label, value=value, unit="W/mK", formula="typed", source=source)
    return Conductivity(
        label=label, value=value, low=value, high=value, heat_capacity=capacity, sources=(source,), steps=(step,)
    )


def with_inclusions(body: float, inside: float, share: float) -> float:
    """Conductivity of a body with scattered round inclusions [W/(m K)].

    Args:
        body: of the body [W/(m K)].
        inside: of the inclusions [W/(m K)].
        share: of the volume that is inclusions [1].

    Sources: closed form (Maxwell 1873); good while the inclusions lie apart.
    """
    lean = 2 * body + inside
    return body * (lean - 2 * share * (body - inside)) / (lean + share * (body - inside))


def fibre_share(mix: Mix | None) -> float:
    """Share of fresh mortar that is soaked fibre [1]; none where no mix is stated.

    Sources: closed form; the room fibre takes is as in the mix (`soaked-fibre-room`).
    """
    if mix is None:
        return 0.0
    room = float(table("materials")["fibre"]["basic_kg_per_m3"])
    return math.fsum(a.dry_mass / (a.part.solid_density or room) for a in mix.amounts if a.part.kind == "fibre")


def mortar_conductivity(mix: Mix | None) -> Conductivity:
    """Conductivity of the mortar: the usual value of lime-cement mortar, the less the more fibre is in it.

    Args:
        mix: the mix worked out, None when none is stated.

    Sources: `data/conductivity.toml` for the mortar itself; Maxwell for the fibre.
    """
    plain, fibre, share = row("mortar"), row("fibre"), fibre_share(mix)
    if share <= 0:
        return plain
    value = with_inclusions(plain.value, fibre.value, share)
    step = Step(
        symbol="soaked fibre in the mortar",
        value=share,
        unit="1",
        formula="dry mass / room",
        source=Cite("soaked-fibre-room"),
    )
    last = Step(symbol="mortar with fibre", value=value, unit="W/mK", source=Cite("maxwell-inclusions"))
    return Conductivity(
        label="mortar with fibre",
        value=value,
        low=with_inclusions(plain.low, fibre.low, share),
        high=with_inclusions(plain.high, fibre.high, share),
        heat_capacity=plain.heat_capacity * (1 - share / 2),
        sources=(*plain.sources, *fibre.sources),
        steps=(*plain.steps, *fibre.steps, step, last),
    )


AIR_LAYERS: Final = ((0.005, 0.11), (0.007, 0.13), (0.010, 0.15), (0.015, 0.17), (0.025, 0.18), (0.300, 0.18))
"""Width [m] and resistance [m2 K/W] of an unventilated air layer with heat flowing level (`iso-6946-air-layer`)."""


def air_layer(width: float) -> float:
    """Thermal resistance of an unventilated air layer, heat flowing level [m2 K/W].

    Args:
        width: [m], 5 to 300 mm.

    Raises:
        OutOfRangeError: outside these.

    Sources: ISO 6946:2007, table of unventilated air layers; linear between its rows.
    """
    least, most = AIR_LAYERS[0][0], AIR_LAYERS[-1][0]
    if not least <= width <= most:
        raise OutOfRangeError(
            f"an air layer is known from {least * 1000:g} to {most * 1000:g} mm, not {width * 1000:g}"
        )
    for (a, low), (b, high) in pairwise(AIR_LAYERS):
        if width <= b:
            return low + (high - low) * (width - a) / (b - a)
    raise AssertionError("the last row holds the widest layer")


def empty_cavity(width: float) -> Conductivity:
    """What an empty cavity of this width leads, as if it were a solid [W/(m K)].

    Args:
        width: [m].

    Raises:
        OutOfRangeError: a width the source does not know.

    Sources: ISO 6946:2007, unventilated air layer.
    """
    source = Cite("iso-6946-air-layer", "heat flow level")
    resistance = air_layer(width)
    step = Step(symbol="air layer", value=resistance, unit="m2K/W", formula="as tabled", source=source)
    value = width / resistance
    return Conductivity(
        label="an empty cavity",
        value=value,
        low=value,
        high=value,
        heat_capacity=1200.0,
        sources=(source,),
        steps=(step,),
    )


def mean_of(parts: Iterable[tuple[float, Conductivity]]) -> Conductivity:
    """One material in place of several that lie side by side, weighted by their face.

    Args:
        parts: the face of each [m2] and what it leads, at least one.

    Sources: closed form.
    """
    shares = list(parts)
    total = math.fsum(face for face, _ in shares)
    first = shares[0][1]
    if len({c.value for _, c in shares}) == 1:
        return first

    def mean(name: str) -> float:
        return math.fsum(face * getattr(c, name) for face, c in shares) / total

    value = mean("value")
    step = Step(symbol=first.label, value=value, unit="W/mK", formula="mean of the woods by their face")
    return Conductivity(
        label=first.label,
        value=value,
        low=mean("low"),
        high=mean("high"),
        heat_capacity=mean("heat_capacity"),
        sources=tuple(dict.fromkeys(s for _, c in shares for s in c.sources)),
        steps=(*(s for _, c in shares for s in c.steps), step),
    )
