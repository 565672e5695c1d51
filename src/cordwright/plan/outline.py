"""What are the inside, centre and outside faces of the wall: how long, and around what area?"""

from dataclasses import dataclass

from cordwright.plan import oval as ovals
from cordwright.plan import polygon as polygons
from cordwright.plan.inputs import Outline, Point, PolygonOutline
from cordwright.plan.oval import Oval
from cordwright.plan.polygon import Polygon

Shape = Polygon | Oval


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One face of the wall seen from above: a counter-clockwise ring to draw, its exact length [m] and area [m2]."""

    ring: tuple[Point, ...]
    length: float
    area: float


def shape_of(outline: Outline) -> Shape:
    """Work out an outline once, for all the faces.

    Raises:
        InputError: a polygon no building can have.
    """
    return polygons.polygon(outline) if isinstance(outline, PolygonOutline) else ovals.oval(outline)


def face(shape: Shape, distance: float) -> Face:
    """Give the face that runs parallel to the inside one, `distance` [m] outwards."""
    if isinstance(shape, Polygon):
        return Face(
            ring=polygons.ring(shape, distance),
            length=polygons.perimeter(shape, distance),
            area=polygons.area(shape, distance),
        )
    return Face(
        ring=ovals.ring(shape, distance), length=ovals.perimeter(shape, distance), area=ovals.area(shape, distance)
    )
