"""How does a panel look on a phone? Logs as blocks that a thumb finds, everything else as plain as can be."""

from collections.abc import Mapping
from typing import Final

from cordwright.book.drawing import BOLD_PEN, CUT_PEN, Drawing, Group, Shape, Text, outline
from cordwright.book.log_ends import draw_bottle_end, draw_log_end, draw_stone
from cordwright.book.scale import ToPaper, extent
from cordwright.plan.inputs import Point
from cordwright.plan.results import Panel
from cordwright.wall.layout import PanelLayout

MARGIN: Final = 4.0
DENOMINATOR: Final = 12.5
"""The drawing's own scale; on the phone it is zoomed to whatever a thumb needs."""

to_sheet: Final = ToPaper(denominator=DENOMINATOR, origin=(MARGIN, MARGIN))


def draw_pocket_panel(panel: Panel, layout: PanelLayout, numbers: Mapping[str, str], name: str) -> Drawing:
    """The laid panel with each log end as a group named after it.

    Args:
        panel: the panel on the plan.
        layout: its logs.
        numbers: each log's number in its lift.
        name: the drawing's name on the page.
    """
    _, _, wide, high = extent(panel.outline)
    shapes: list[Shape] = [outline(to_sheet.all(panel.outline), CUT_PEN)]
    for placed in panel.openings:
        shapes.append(outline(to_sheet.all(placed.outline), BOLD_PEN, "opening", "grey"))
        shapes.append(_mark(placed.opening.id, placed.outline))
    for obstacle in panel.obstacles:
        shapes += draw_bottle_end(to_sheet((obstacle.u, obstacle.v)), to_sheet.length(obstacle.diameter / 2))
    shapes += [draw_stone(to_sheet((f.x, f.y)), to_sheet.length(f.diameter / 2)) for f in layout.fillers]
    for p in layout.placements:
        centre, radius = to_sheet((p.x, p.y)), to_sheet.length(p.log.diameter / 2)
        end = draw_log_end(p.log, centre, radius, numbers[p.log.id], angle=p.angle)
        shapes.append(Group(name=p.log.id, at=centre, shapes=end))
    return Drawing(
        name=name,
        label=f"Panel {panel.name} with its log ends, seen from inside",
        width=to_sheet.length(wide) + 2 * MARGIN,
        height=to_sheet.length(high) + 2 * MARGIN,
        shapes=tuple(shapes),
        denominator=DENOMINATOR,
    )


def _mark(words: str, ring: tuple[Point, ...]) -> Text:
    left, foot, right, top = extent(to_sheet.all(ring))
    return Text(text=words, at=((left + right) / 2, (foot + top) / 2 - 2), size=6.0, bold=True, layer="opening")
