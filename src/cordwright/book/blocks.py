"""How do the blocks of a built-up corner show on the drawing of a panel?"""

from cordwright.book.drawing import CUT_PEN, Hatch, Shape, outline
from cordwright.book.scale import ToPaper
from cordwright.plan.results import Panel


def corner_blocks(panel: Panel, to_paper: ToPaper) -> list[Shape]:
    """The teeth that run along the panel's wall, hatched as timber; what lies beyond its ends is the other wall's.

    Args:
        panel: the panel, or a bay of one.
        to_paper: the drawing's scale and place.
    """
    shapes: list[Shape] = []
    for block in panel.blocks:
        corners = (
            (block.left, block.bottom),
            (block.right, block.bottom),
            (block.right, block.top),
            (block.left, block.top),
        )
        ring = to_paper.all(corners)
        shapes += [
            outline(ring, 0.0, "frame", "white"),
            Hatch(rings=(ring,), material="timber"),
            outline(ring, CUT_PEN, "frame"),
        ]
    return shapes
