"""How does a drawing become an SVG picture? The one place where a drawing's strings meet markup, and are escaped.

Millimetres of paper become user units one to one; y is turned over. Ids carry the drawing's name, so that many drawings
stand on one page.
"""

import re
from functools import lru_cache, singledispatch
from math import degrees
from typing import Final

from cordwright.book.drawing import (
    Arc,
    Circle,
    Drawing,
    Group,
    Hatch,
    Material,
    Path,
    Point,
    Shape,
    Squares,
    Text,
    every,
    shifted,
)

FONTS: Final = {"words": "Libertinus Serif, Noto Serif, DejaVu Serif, serif", "measures": "DejaVu Sans Mono, monospace"}
TONES: Final = {"none": "none", "white": "#ffffff", "grey": "#e4e4e4", "black": "#111111"}
INK: Final = "#111111"
NOT_XML: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

KEPT: Final = 512
"""So many drawings are remembered as written: a book and its companions have fewer."""

PATTERNS: Final[dict[Material, tuple[float, str]]] = {
    "timber": (2.0, '<path d="M-.5 .5L.5 -.5M0 2L2 0M1.5 2.5L2.5 1.5" stroke="{ink}" stroke-width=".13" fill="none"/>'),
    "mortar": (
        4.0,
        '<g fill="{ink}"><circle cx=".7" cy=".9" r=".14"/><circle cx="2.6" cy=".5" r=".09"/>'
        '<circle cx="3.3" cy="2.1" r=".14"/>'
        '<circle cx="1.5" cy="2.4" r=".09"/><circle cx=".5" cy="3.4" r=".09"/><circle cx="2.4" cy="3.5" r=".14"/></g>',
    ),
    "fill": (
        3.0,
        '<path d="M.3 .6L.9 .9M1.6 .3L1.3 .9M2.2 1.3L2.8 1.1M.6 1.9L1.1 1.6M1.7 2.1L2.1 2.5M.2 2.8L.7 2.6" '
        'stroke="{ink}" stroke-width=".15" fill="none"/>',
    ),
    "stone": (
        7.0,
        '<g fill="none" stroke="{ink}" stroke-width=".18"><ellipse cx="1.6" cy="1.5" rx="1.3" ry="1.1"/>'
        '<ellipse cx="5" cy="1.9" rx="1.6" ry="1.3"/>'
        '<ellipse cx="2.3" cy="5" rx="1.7" ry="1.4"/><ellipse cx="5.6" cy="5.3" rx="1.2" ry="1"/>'
        '<circle cx="3.4" cy="3.2" r=".5"/></g>',
    ),
    "sand": (
        1.6,
        '<g fill="{ink}"><circle cx=".4" cy=".4" r=".19"/><circle cx="1.2" cy="1.2" r=".19"/></g>',
    ),
    "lime": (2.2, '<g fill="{ink}"><circle cx=".5" cy=".5" r=".12"/><circle cx="1.6" cy="1.6" r=".12"/></g>'),
    "cement": (
        0.9,
        '<rect width=".9" height=".9" fill="#333333"/><circle cx=".45" cy=".45" r=".13" fill="#ffffff"/>',
    ),
    "fibre": (
        2.4,
        '<path d="M.2 .5L.9 .3M1.3 .7L2 1M.4 1.5L1 1.8M1.5 2L2.2 1.7" stroke="{ink}" stroke-width=".2" fill="none"/>',
    ),
}


def plain(text: str) -> str:
    """The text with every character that no XML file may hold shown as a replacement mark."""
    return NOT_XML.sub("\ufffd", text)


def escape(text: str) -> str:
    """The owner's text, inert between tags and within quotes."""
    quoted = plain(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return quoted.replace('"', "&quot;").replace("'", "&#39;")


def to_svg(drawing: Drawing, *, sized: bool = True) -> str:
    """The drawing as one SVG element; `sized` gives it its size on paper, for a file of its own."""
    size = f' width="{_n(drawing.width)}mm" height="{_n(drawing.height)}mm"' if sized else ""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" role="img" '
        f'aria-label="{escape(drawing.label)}"{size} viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}" '
        f'font-family="{FONTS["words"]}" stroke-linejoin="round" data-by="cordwright">\n'
        f"{_inner(drawing)}\n</svg>\n"
    )


@lru_cache(maxsize=KEPT)
def _inner(drawing: Drawing) -> str:
    """What is drawn, kept a while: the same drawing goes on paper, on the page and into a file of its own."""
    materials = sorted({s.material for s in every(drawing.shapes) if isinstance(s, Hatch)})
    defs = "".join(_pattern(drawing.name, m) for m in materials)
    body = "\n".join(_write(shape, drawing) for shape in drawing.shapes)
    return f"{f'<defs>{defs}</defs>' if defs else ''}{body}"


def _pattern(name: str, material: Material) -> str:
    size, marks = PATTERNS[material]
    return (
        f'<pattern id="{_pattern_id(name, material)}" patternUnits="userSpaceOnUse" '
        f'width="{_n(size)}" height="{_n(size)}">'
        f"{marks.format(ink=INK)}</pattern>"
    )


def _pattern_id(name: str, material: Material) -> str:
    return escape(f"{name}-{material}")


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _at(point: Point, drawing: Drawing) -> tuple[str, str]:
    return _n(point[0]), _n(drawing.height - point[1])


def _d(points: tuple[Point, ...], drawing: Drawing, closed: bool) -> str:
    words = ("{} {}".format(*_at(p, drawing)) for p in points)
    return "M" + "L".join(words) + ("Z" if closed else "")


def _ink(pen: float, dash: tuple[float, ...] = ()) -> str:
    dashes = f' stroke-dasharray="{" ".join(_n(d) for d in dash)}"' if dash else ""
    return f'stroke="{INK}" stroke-width="{_n(pen)}"{dashes}' if pen else 'stroke="none"'


@singledispatch
def _write(shape: Shape, drawing: Drawing) -> str:
    raise TypeError(f"{drawing.name}: no backend draws a {type(shape).__name__}")


@_write.register
def _(shape: Path, drawing: Drawing) -> str:
    data = _d(shape.points, drawing, shape.closed)
    return f'<path class="{shape.layer}" d="{data}" fill="{TONES[shape.tone]}" {_ink(shape.pen, shape.dash)}/>'


@_write.register
def _(shape: Circle, drawing: Drawing) -> str:
    x, y = _at(shape.centre, drawing)
    ink = f'fill="{TONES[shape.tone]}" {_ink(shape.pen, shape.dash)}'
    return f'<circle class="{shape.layer}" cx="{x}" cy="{y}" r="{_n(shape.radius)}" {ink}/>'


@_write.register
def _(shape: Arc, drawing: Drawing) -> str:
    ends = (shifted(shape.centre, shape.radius, a) for a in (shape.start, shape.end))
    (x0, y0), (x1, y1) = (_at(p, drawing) for p in ends)
    large = int(abs(shape.end - shape.start) > 3.141592653589793)
    r = _n(shape.radius)
    return f'<path class="{shape.layer}" d="M{x0} {y0}A{r} {r} 0 {large} 0 {x1} {y1}" fill="none" {_ink(shape.pen)}/>'


@_write.register
def _(shape: Hatch, drawing: Drawing) -> str:
    data = "".join(_d(ring, drawing, True) for ring in shape.rings)
    pattern = _pattern_id(drawing.name, shape.material)
    return f'<path class="{shape.layer}" d="{data}" fill="url(#{pattern})" fill-rule="evenodd" stroke="none"/>'


@_write.register
def _(shape: Squares, drawing: Drawing) -> str:
    x, y = _at(shape.at, drawing)
    data = "".join(f"M{column} {row}h{length}v1h-{length}z" for column, row, length in shape.runs)
    # To the nanometre, for it is many times enlarged.
    place = f'transform="translate({x} {y}) scale({shape.module:.6f})"'
    return f'<path class="{shape.layer}" d="{data}" fill="{INK}" {place}/>'


@_write.register
def _(shape: Text, drawing: Drawing) -> str:
    x, y = _at(shape.at, drawing)
    turn = f' transform="rotate({_n(-degrees(shape.turn))} {x} {y})"' if shape.turn else ""
    weight = ' font-weight="bold"' if shape.bold else ""
    face = f' font-family="{FONTS["measures"]}"' if shape.face == "measures" else ""
    attributes = f'x="{x}" y="{y}" font-size="{_n(shape.size)}" text-anchor="{shape.anchor}"{weight}{face}{turn}'
    words = escape(shape.text)
    under = (
        f'<text {attributes} fill="#ffffff" stroke="#ffffff" stroke-width="0.9" aria-hidden="true">{words}</text>'
        if shape.halo
        else ""
    )
    ink = "#ffffff" if shape.light else INK
    return f'{under}<text class="{shape.layer}" {attributes} fill="{ink}">{words}</text>'


@_write.register
def _(shape: Group, drawing: Drawing) -> str:
    body = "".join(_write(part, drawing) for part in shape.shapes)
    return f'<g class="{shape.layer}" data-name="{escape(shape.name)}">{body}</g>'
