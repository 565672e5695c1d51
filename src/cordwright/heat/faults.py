"""What in the stated conductivities, fill and wires cannot be?"""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Problem, table
from cordwright.heat.conductivity import known_fills
from cordwright.heat.inputs import WallHeatInput
from cordwright.heat.materials import EMPTY
from cordwright.plan.inputs import WallSection

STATED: Final = ("along_grain", "across_grain", "mortar", "fill_conductivity")


def find_wall_heat_faults(heat: WallHeatInput, section: WallSection) -> tuple[Problem, ...]:
    """Name every fault of what is stated under [wall.heat].

    Args:
        heat: as stated.
        section: the wall's section.

    Sources: limits are assumptions (`conductivity-limits`).
    """
    return (*_limits(heat), *_fill(heat, section), *_wires(heat, section))


def _limits(heat: WallHeatInput) -> Iterator[Problem]:
    limits = table("conductivity")["limits"]
    least, most = limits["least"], limits["most"]
    for name in STATED:
        value = getattr(heat, name)
        if value is not None and not least <= value <= most:
            yield Problem(
                field=f"wall.heat.{name}",
                message=f"a conductivity of {value:g} W/mK is none that a log-end wall has",
                hint=f"from {least:g} to {most:g} W/mK; wood has 0.1 to 0.4, mortar 0.5 to 1.2, fill 0.04 to 0.12",
            )
    along, across = heat.along_grain, heat.across_grain
    if along is not None and across is not None and along < across:
        yield Problem(
            field="wall.heat.along_grain",
            message=f"along the grain {along:g} W/mK is less than the {across:g} across it",
            hint="wood leads 1.5 to 2.8 times as well along its grain as across: look whether the two are exchanged",
        )


def _fill(heat: WallHeatInput, section: WallSection) -> Iterator[Problem]:
    words = (*known_fills(), EMPTY)
    if heat.fill and heat.fill not in words:
        yield Problem(
            field="wall.heat.fill",
            message=f"there is no fill {heat.fill!r} in the table",
            hint=f"allowed: {', '.join(words)}; or state fill_conductivity",
        )
    if section.solid and heat.fill not in ("", EMPTY):
        yield Problem(
            field="wall.heat.fill",
            message=f"the beads meet, so that no cavity is left for {heat.fill}",
            hint="leave out fill, or make the beads less deep",
            severity="warning",
        )


def _wires(heat: WallHeatInput, section: WallSection) -> Iterator[Problem]:
    if (heat.wire_diameter is None) != (heat.wire_spacing is None):
        blank = "wire_spacing" if heat.wire_spacing is None else "wire_diameter"
        yield Problem(
            field=f"wall.heat.{blank}",
            message="of the wires in the beads only one size is stated",
            hint="state both wire_diameter and wire_spacing, or neither",
        )
    if heat.wire_diameter is not None and heat.wire_diameter > section.bead:
        yield Problem(
            field="wall.heat.wire_diameter",
            message=f"a wire of {heat.wire_diameter * 1000:g} mm does not fit a bead of {section.bead * 1000:g} mm",
            hint="wires in a bead are a few millimetres thick",
        )
    if heat.wire_spacing is not None and heat.wire_spacing < 0.05:
        yield Problem(
            field="wall.heat.wire_spacing",
            message=f"wires every {heat.wire_spacing * 1000:g} mm leave no joints between them",
            hint="level wires lie a few decimetres apart: 300 mm or more",
        )
