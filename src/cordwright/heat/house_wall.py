"""What U-value and what slow answer has the wall of this house, by the best that is known of it?"""

from dataclasses import dataclass

from cordwright.base import Figure
from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.house_shell import Wall
from cordwright.heat.section import layers_of, wall_section
from cordwright.heat.year_cell import cell_modes
from cordwright.heat.year_elements import Modes, layered_wall
from cordwright.plan.inputs import WallSection

RESOLVED, CELL, SECTION = "wall.u_resolved", "wall.u_cell", "wall.u_value"
BY = {RESOLVED: "as laid, log by log", CELL: "of a log end in its share of joint", SECTION: "of the wall's section"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The wall's section with what it is made of; `diameter` of its mean log end by face [m], None while unknown."""

    section: WallSection
    wood_fraction: float
    materials: WallMaterials
    diameter: float | None = None


def best_wall(figures: tuple[Figure, ...]) -> Wall | None:
    """Take the best U-value that the wall has: as laid, else by the cell of one log end, else by its section.

    Args:
        figures: of the wall's heat.
    """
    by_key = {f.key: f for f in figures}
    for key in (RESOLVED, CELL, SECTION):
        found = by_key.get(key)
        if found is not None and isinstance(found.value, float):
            low = found.low if isinstance(found.low, float) else found.value
            high = found.high if isinstance(found.high, float) else found.value
            return Wall(u=(low, found.value, high), how=BY[key], sources=found.sources)
    return None


def section_wall(section: Section) -> Wall:
    """The wall by its section alone.

    Args:
        section: with its materials.

    Sources: ISO 6946, combined method; outside its range the middle is that of the bounds all the same, within them.
    """
    u = wall_section(section.section, section.wood_fraction, section.materials)
    from cordwright.heat.section import COMBINED

    spread = u.u_value if u.middle.valid else (u.u_lower[0], u.u_value[1], u.u_upper[2])
    return Wall(u=spread, how=BY[SECTION], sources=(COMBINED,))


def section_modes(section: Section, u: float) -> Modes:
    """How the wall answers hour by hour: by the round cell of its mean log end, else by layers of mean stuff.

    Args:
        section: with its materials.
        u: of the wall [W/m2K].

    Sources: those of `cell_modes` and `layered_wall`.
    """
    if section.diameter is not None:
        return cell_modes(section.section, section.materials, section.wood_fraction, section.diameter, u)
    k, wood = section.materials, section.wood_fraction
    fill = k.fill if k.fill is not None else k.mortar
    joint = tuple(k.mortar if mortar else fill for _, mortar in layers_of(section.section))
    return layered_wall(
        tuple(d for d, _ in layers_of(section.section)),
        tuple(wood * k.along.value + (1 - wood) * stuff.value for stuff in joint),
        tuple(wood * k.along.heat_capacity + (1 - wood) * stuff.heat_capacity for stuff in joint),
        u,
    )
