"""What does the wall of this building lose for each square metre, how sure is that, and what drives it?"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Check, Cite, Figure, Step
from cordwright.heat.conductivity import ERRORS, Conductivity, WallMaterials
from cordwright.heat.panel_heat import HeatStudy
from cordwright.heat.section import (
    COMBINED,
    MOST_RATIO,
    SURFACES,
    WallSectionU,
    banded,
    section_of,
    varied,
    wall_section,
)
from cordwright.heat.surface_values import CHECKED_SOURCE
from cordwright.heat.unit_cell import UnitCell, unit_cell, unit_cells
from cordwright.mortar import Spread
from cordwright.plan.inputs import WallSection

CONDUCTION: Final = Cite("conduction", "finite volumes")
BODY: Final = Cite("panel-as-body")
EXTRAPOLATION: Final = Cite("richardson", "difference of two grids")
FRACTION: Final = Cite("owner", "wall.wood_fraction, or as laid")
Band = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHeat:
    """The wall's heat worked out; without `materials` nothing is known but what is `missing`.

    `section`: by the combined method; `cell`: by unit cells, None without the size of any log; `study`: the panels as
    laid, None when they were not solved. `wood_fraction` [1] and `diameters` [m]: for which it was reckoned.
    """

    materials: WallMaterials | None
    missing: tuple[str, ...]
    section: WallSectionU | None
    cell: UnitCell | None
    study: HeatStudy | None
    wood_fraction: float
    diameters: NDArray[np.float64]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)


LABELS: Final = {
    "wall.u_value": "heat loss of the wall, mean of the bounds",
    "wall.u_lower_bound": "heat loss of the wall, lower bound",
    "wall.u_upper_bound": "heat loss of the wall, upper bound",
    "wall.u_cell": "heat loss of the wall, log by log in round cells",
    "wall.u_resolved": "heat loss of the wall, panels as laid",
}
FACTOR: Final = ("wall.temperature_factor", "temperature factor of the coldest spot inside")


def reckon_wall_heat(  # noqa: PLR0917 (what the earlier stages hand on)
    section: WallSection,
    wood_fraction: Spread,
    materials: WallMaterials | None,
    missing: tuple[str, ...],
    diameters: NDArray[np.float64],
    study: HeatStudy | None,
) -> WallHeat:
    """Work out what the wall loses.

    Args:
        section: the wall's section.
        wood_fraction: log end over face [1], planned with its spread, or as laid.
        materials: what the wall is made of, None where that is not known.
        missing: what must be stated before it is.
        diameters: of the log ends at laying [m], shape (n,); empty when unknown.
        study: the panels solved, None when they were not.

    Sources: ISO 6946; closed form (conduction by finite volumes).
    """
    if materials is None:
        return _unknown(wood_fraction.middle, diameters, missing)
    fraction = wood_fraction.middle
    section_u = wall_section(section, fraction, materials)
    cell = unit_cell(section, fraction, materials, diameters) if diameters.size else None
    return WallHeat(
        materials=materials,
        missing=(),
        section=section_u,
        cell=cell,
        study=study,
        wood_fraction=fraction,
        diameters=diameters,
        figures=_figures(section, wood_fraction, materials, diameters, section_u, study),
        checks=(_ratio_check(section_u),),
    )


def _unknown(fraction: float, diameters: NDArray[np.float64], missing: tuple[str, ...]) -> WallHeat:
    blanks = [_blank(key, label, missing) for key, label in LABELS.items()]
    blanks.append(_blank(*FACTOR, missing, unit="1"))
    return WallHeat(
        materials=None,
        missing=missing,
        section=None,
        cell=None,
        study=None,
        wood_fraction=fraction,
        diameters=diameters,
        figures=tuple(blanks),
        checks=(
            Check(
                key="wall.u_bound_ratio",
                label="bounds of the wall's heat loss lie near enough for their mean",
                demand=None,
                capacity=MOST_RATIO,
                unit="1",
                sources=(COMBINED,),
                not_judged=f"unknown: {'; '.join(missing)}",
            ),
        ),
    )


def _blank(key: str, label: str, missing: tuple[str, ...], *, unit: str = "W/m2K") -> Figure:
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=(COMBINED,))


def _with_fraction(of: Callable[[float, WallMaterials], float], fraction: Spread, materials: WallMaterials) -> Band:
    """Low, middle and high with both the materials' spread and that of the wood fraction."""
    low, middle, high = banded(lambda m: of(fraction.middle, m), materials)
    moves = [of(f, materials) - middle for f in (fraction.low, fraction.high)]
    less = math.hypot(low - middle, min(0.0, *moves))
    more = math.hypot(high - middle, max(0.0, *moves))
    return middle - less, middle, middle + more


def _cell_band(
    section: WallSection, fraction: Spread, materials: WallMaterials, diameters: NDArray[np.float64]
) -> Band:
    """As `_with_fraction`, all walls at once; what wood leads across its grain hardly matters and is left out."""
    ends = [m for pair in varied(replace(materials, across=_sure(materials.across))) for m in pair]
    walls = [(fraction.middle, materials), *((fraction.middle, m) for m in ends)]
    walls += [(f, materials) for f in (fraction.low, fraction.high)]
    found = [cell.u_value for cell in unit_cells(section, walls, diameters)]
    moves = [u - found[0] for u in found[1:]]
    less = math.hypot(*(min(0.0, *pair) for pair in zip(moves[::2], moves[1::2], strict=True)))
    more = math.hypot(*(max(0.0, *pair) for pair in zip(moves[::2], moves[1::2], strict=True)))
    return found[0] - less, found[0], found[0] + more


def _sure(part: Conductivity) -> Conductivity:
    return replace(part, low=part.value, high=part.value)


def _figures(  # noqa: PLR0917 (as `reckon_wall_heat`)
    section: WallSection,
    fraction: Spread,
    materials: WallMaterials,
    diameters: NDArray[np.float64],
    section_u: WallSectionU,
    study: HeatStudy | None,
) -> tuple[Figure, ...]:
    steps = _steps(section, fraction, materials, section_u)

    def bound(name: str) -> Band:
        return _with_fraction(lambda f, m: float(getattr(section_of(section, f, m), name)), fraction, materials)

    found = [_mean(bound("u_value"), section_u, materials, steps)]
    for key, name in (("wall.u_lower_bound", "u_lower"), ("wall.u_upper_bound", "u_upper")):
        found.append(_figure(key, bound(name), (COMBINED, SURFACES, ERRORS), materials, steps))
    if diameters.size:
        band = _cell_band(section, fraction, materials, diameters)
        found.append(_figure("wall.u_cell", band, (CONDUCTION, SURFACES, ERRORS), materials, steps))
        found += _resolved(band, study, materials, steps)
    else:
        found.append(_blank("wall.u_cell", LABELS["wall.u_cell"], ("the diameters of the log ends ([stock])",)))
        found += _resolved(None, study, materials, steps)
    return tuple(found)


def _figure(
    key: str, band: Band, sources: tuple[Cite, ...], materials: WallMaterials, steps: tuple[Step, ...]
) -> Figure:
    known = (materials.along, materials.mortar, *((materials.fill,) if materials.fill else ()))
    all_sources = tuple(dict.fromkeys((*sources, *(s for c in known for s in c.sources))))
    low, middle, high = band
    return Figure(
        key=key, label=LABELS[key], value=middle, low=low, high=high, unit="W/m2K", sources=all_sources, steps=steps
    )


def _mean(band: Band, section_u: WallSectionU, materials: WallMaterials, steps: tuple[Step, ...]) -> Figure:
    """The mean of the bounds, or nothing where they lie too far apart."""
    if section_u.middle.valid:
        return _figure("wall.u_value", band, (COMBINED, SURFACES, ERRORS), materials, steps)
    ratio = section_u.middle.ratio
    why = f"a method that holds: the bounds lie {ratio:.2f} apart, over {MOST_RATIO:g}; see the round cells"
    return replace(_blank("wall.u_value", LABELS["wall.u_value"], (why,)), steps=steps)


def _resolved(
    band: Band | None, study: HeatStudy | None, materials: WallMaterials, steps: tuple[Step, ...]
) -> list[Figure]:
    """U of the laid panels; their spread is that of the round cells, moved to their middle, and the grid's."""
    if study is None or not study.panels:
        missing = ("the panels solved as laid (a layout, and studies)",)
        return [_blank("wall.u_resolved", LABELS["wall.u_resolved"], missing), _blank(*FACTOR, missing, unit="1")]
    u, error = study.u_value, study.error
    down, up = (0.0, 0.0) if band is None else (1 - band[0] / band[1], band[2] / band[1] - 1)
    low, high = u - math.hypot(error, down * u), u + math.hypot(error, up * u)
    pitch = max(p.pitch for p in study.panels)
    own = (
        Step(symbol="net face of the panels", value=study.area, unit="m2", formula="as laid"),
        Step(
            symbol="grid along the wall", value=pitch, unit="m", formula="and once twice as coarse", source=CONDUCTION
        ),
        Step(symbol="error of the grid", value=error, unit="W/m2K", source=EXTRAPOLATION),
    )
    name, spot = study.coldest()
    where = (
        Step(symbol="from the left end", value=spot.x, unit="m", formula=f"panel {name}, on {spot.ground}"),
        Step(symbol="above the bed", value=spot.y, unit="m", formula="seen from inside", source=CHECKED_SOURCE),
    )
    factor = Figure(
        key=FACTOR[0],
        label=FACTOR[1],
        value=spot.factor,
        unit="1",
        sources=(CONDUCTION, CHECKED_SOURCE),
        steps=where,
    )
    resolved = _figure(
        "wall.u_resolved", (low, u, high), (CONDUCTION, BODY, EXTRAPOLATION, SURFACES), materials, (*steps, *own)
    )
    return [resolved, factor]


def _steps(
    section: WallSection, fraction: Spread, materials: WallMaterials, section_u: WallSectionU
) -> tuple[Step, ...]:
    known = (materials.along, materials.mortar, *((materials.fill,) if materials.fill else ()))
    return (
        Step(symbol="wood fraction", value=fraction.middle, unit="1", source=FRACTION),
        *(s for c in known for s in c.steps),
        Step(symbol="wall, mortar face to mortar face", value=section.thickness, unit="m", formula="length - 2 proud"),
        Step(symbol="straight through a log", value=section_u.log_path, unit="W/m2K", source=COMBINED),
        Step(symbol="straight through a joint", value=section_u.joint_path, unit="W/m2K", source=COMBINED),
    )


def _ratio_check(section_u: WallSectionU) -> Check:
    middle = section_u.middle
    return Check(
        key="wall.u_bound_ratio",
        label="bounds of the wall's heat loss lie near enough for their mean",
        demand=middle.ratio,
        capacity=MOST_RATIO,
        unit="1",
        sources=(COMBINED,),
        steps=(
            Step(symbol="upper resistance", value=middle.upper_resistance, unit="m2K/W", source=COMBINED),
            Step(symbol="lower resistance", value=middle.lower_resistance, unit="m2K/W", source=COMBINED),
            Step(symbol="largest error of the mean", value=middle.error, unit="1", source=COMBINED),
        ),
    )
