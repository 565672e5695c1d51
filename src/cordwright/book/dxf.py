"""How does a drawing become a DXF file that a neighbour's CAD opens? In true size: one unit is one millimetre built.

Every kind of line has its layer and its pen as line weight; log ends are blocks, named as on the log. Nothing here
decides what is drawn: shapes come from the same drawing as the SVG and the page.
"""

import io
import re
from functools import singledispatch
from math import degrees
from typing import TYPE_CHECKING, Final

from cordwright.book.drawing import (
    Arc,
    Circle,
    Drawing,
    Group,
    Hatch,
    Layer,
    Material,
    Path,
    Point,
    Shape,
    Squares,
    Text,
    Tone,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities import Hatch as DxfHatch
    from ezdxf.layouts.base import BaseLayout

MARK: Final = "999\nby cordwright\n"
"""A comment at the head of the file, by which a drawing of ours is known."""

MILLIMETRES: Final = 4
"""The DXF header's code for millimetres."""

COLOURS: Final[dict[Layer, int]] = {
    "wall": 7, "frame": 7, "opening": 7, "built-in": 7, "hidden": 8, "reference": 8, "dimension": 8, "text": 7,
    "hatch": 9, "ground": 7, "log": 7,
}  # fmt: skip
"""Ink by layer: black (7), grey (8, 9); meaning never hangs on a colour."""

TONES: Final[dict[Tone, tuple[int, int, int] | None]] = {
    "none": None, "white": (255, 255, 255), "grey": (228, 228, 228), "black": (17, 17, 17)
}  # fmt: skip

PATTERNS: Final[dict[Material, tuple[str, float]]] = {
    "timber": ("ANSI31", 0.5), "mortar": ("AR-SAND", 0.1), "fill": ("DASH", 0.4), "stone": ("GRAVEL", 0.35),
    "sand": ("DOTS", 0.6), "lime": ("DOTS", 1.2), "cement": ("AR-CONC", 0.02), "fibre": ("DASH", 0.8),
}  # fmt: skip
"""By material, the stock pattern of CAD programs and its size on paper."""

HEIGHT: Final = 0.68
"""Height of a capital over the type size: DXF measures the one, paper the other."""

STYLES: Final = {"words": ("WORDS", "LiberationSerif-Regular.ttf"), "measures": ("MEASURES", "DejaVuSansMono.ttf")}
CONTROL: Final = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
NOT_NAME: Final = re.compile(r'[<>/\\":;?*|=,`\x00-\x1f]')
ALIGN: Final = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}


def to_dxf(drawing: Drawing) -> str:
    """The drawing as a DXF file (R2010), in millimetres of the building (of the paper when it has no scale)."""
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    # The same drawing gives the same bytes: no time of writing, no number made anew.
    options.write_fixed_meta_data_for_testing = True
    document = new("R2010", setup=["linetypes"])
    document.header["$INSUNITS"] = MILLIMETRES
    document.header["$MEASUREMENT"] = 1
    document.header["$LWDISPLAY"] = 1
    for name, font in STYLES.values():
        document.styles.add(name, font=font)
    for layer, colour in COLOURS.items():
        document.layers.add(layer.upper(), color=colour)
    pen = _Pen(document, drawing.denominator or 1.0)
    for shape in drawing.shapes:
        pen.draw(shape, document.modelspace())
    written = io.StringIO()
    document.write(written)
    return MARK + written.getvalue()


class _Pen:
    """Draws shapes of one drawing into a document, enlarged from paper to the building."""

    def __init__(self, document: "Document", scale: float) -> None:
        self.document, self.scale = document, scale
        self._dashes: dict[tuple[float, ...], str] = {}

    def draw(self, shape: Shape, space: "BaseLayout") -> None:
        _draw(shape, self, space)

    def at(self, point: Point) -> Point:
        return (point[0] * self.scale, point[1] * self.scale)

    def ink(self, layer: Layer, pen: float, dash: tuple[float, ...] = ()) -> dict[str, object]:
        attributes: dict[str, object] = {"layer": layer.upper(), "lineweight": round(pen * 100)}
        if dash:
            attributes["linetype"] = self._linetype(dash)
        return attributes

    def _linetype(self, dash: tuple[float, ...]) -> str:
        if dash not in self._dashes:
            name = f"DASH{len(self._dashes) + 1}"
            lengths = [n * self.scale * (1 if k % 2 == 0 else -1) for k, n in enumerate(dash)]
            pattern = [sum(map(abs, lengths)), *lengths]
            self.document.linetypes.add(name, pattern, description=" ".join(f"{n:g}" for n in dash))
            self._dashes[dash] = name
        return self._dashes[dash]

    def fill(self, space: "BaseLayout", layer: Layer, tone: Tone) -> "DxfHatch | None":
        colour = TONES[tone]
        if colour is None:
            return None
        hatch = space.add_hatch(dxfattribs={"layer": layer.upper()})
        hatch.rgb = colour
        return hatch

    def block(self, group: Group) -> str:
        """A block for a group, named after it; a second of the same name gets a number."""
        bare = NOT_NAME.sub("-", CONTROL.sub("", group.name)).strip() or "part"
        name, again = bare, 2
        while name in self.document.blocks:
            name, again = f"{bare} ({again})", again + 1
        block = self.document.blocks.new(name, base_point=self.at(group.at))
        for shape in group.shapes:
            self.draw(shape, block)
        return name


@singledispatch
def _draw(shape: Shape, _pen: _Pen, _space: "BaseLayout") -> None:
    raise TypeError(f"no DXF is written of a {type(shape).__name__}")


@_draw.register(Path)
def _(shape: Path, pen: _Pen, space: "BaseLayout") -> None:
    points = [pen.at(p) for p in shape.points]
    hatch = pen.fill(space, shape.layer, shape.tone) if shape.closed else None
    if hatch is not None:
        hatch.paths.add_polyline_path(points, is_closed=True)
    if shape.pen:
        space.add_lwpolyline(points, close=shape.closed, dxfattribs=pen.ink(shape.layer, shape.pen, shape.dash))


@_draw.register(Circle)
def _(shape: Circle, pen: _Pen, space: "BaseLayout") -> None:
    centre, radius = pen.at(shape.centre), shape.radius * pen.scale
    hatch = pen.fill(space, shape.layer, shape.tone)
    if hatch is not None:
        hatch.paths.add_edge_path().add_arc(centre, radius, 0, 360)
    if shape.pen:
        space.add_circle(centre, radius, dxfattribs=pen.ink(shape.layer, shape.pen, shape.dash))


@_draw.register(Arc)
def _(shape: Arc, pen: _Pen, space: "BaseLayout") -> None:
    space.add_arc(
        pen.at(shape.centre), shape.radius * pen.scale, degrees(shape.start), degrees(shape.end),
        dxfattribs=pen.ink(shape.layer, shape.pen),
    )  # fmt: skip


@_draw.register(Squares)
def _(shape: Squares, pen: _Pen, space: "BaseLayout") -> None:
    for corners in shape.boxes:
        pen.draw(Path(points=corners, pen=0.0, closed=True, tone="black", layer=shape.layer), space)


@_draw.register(Text)
def _(shape: Text, pen: _Pen, space: "BaseLayout") -> None:
    from ezdxf.enums import TextEntityAlignment

    attributes = {
        "layer": shape.layer.upper(),
        "style": STYLES[shape.face][0],
        "height": shape.size * HEIGHT * pen.scale,
        "rotation": degrees(shape.turn),
    }
    written = space.add_text(inert(shape.text), dxfattribs=attributes)
    written.set_placement(pen.at(shape.at), align=TextEntityAlignment[ALIGN[shape.anchor]])


def inert(text: str) -> str:
    """The owner's text as a DXF program shows it: no control character, no code that it would read as one.

    A doubled per cent sign and a caret begin codes there.
    """
    return CONTROL.sub(" ", text).replace("%%", "%%%%%%").replace("^", "^ ")


@_draw.register(Hatch)
def _(shape: Hatch, pen: _Pen, space: "BaseLayout") -> None:
    name, size = PATTERNS[shape.material]
    hatch = space.add_hatch(dxfattribs={"layer": shape.layer.upper()})
    hatch.set_pattern_fill(name, scale=size * pen.scale)
    for n, ring in enumerate(shape.rings):
        hatch.paths.add_polyline_path([pen.at(p) for p in ring], is_closed=True, flags=1 if n == 0 else 16)


@_draw.register(Group)
def _(shape: Group, pen: _Pen, space: "BaseLayout") -> None:
    space.add_blockref(pen.block(shape), pen.at(shape.at), dxfattribs={"layer": shape.layer.upper()})
