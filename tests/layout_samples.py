"""Panels laid without the engine: squares and hexagons by hand, a plain bottom-up laying of mixed sizes, one stored."""

import math
from dataclasses import replace
from itertools import combinations

import numpy as np

from cordwright.wall.layout import (
    Disc,
    Face,
    Filler,
    Hole,
    LayoutReport,
    Log,
    PanelLayout,
    Placement,
)

JOINT, LEAST, EDGE = 0.025, 0.020, 0.0125
RULES = {"joint": JOINT, "joint_least": LEAST, "edge": EDGE}


def box(x, y, width, height):
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def blank_report(**known):
    nought = dict.fromkeys(LayoutReport.__dataclass_fields__, 0.0)
    return LayoutReport(**{**nought, "unsupported": 0, "joint_nominal": JOINT, **known})


def laid(face, placements, fillers=(), **more):
    return PanelLayout(face=face, placements=tuple(placements), fillers=tuple(fillers), report=blank_report(), **more)


def stock_of(layout):
    return tuple(p.log for p in layout.placements)


def log(n, diameter=0.15, **more):
    return Log(id=f"T{n // 8 + 1:02d}-{n % 8 + 1}", stem=f"T{n // 8 + 1:02d}", diameter=diameter, **more)


def square(columns, rows, diameter=0.15, joint=JOINT, edge=EDGE):
    """Logs straight above each other: all but the bottom row stand on chips."""
    pitch = diameter + joint
    face = Face(name="square", outline=box(0, 0, columns * pitch - joint + 2 * edge, rows * pitch - joint + 2 * edge))
    first = edge + diameter / 2
    placements = []
    for n in range(columns * rows):
        row, column = divmod(n, columns)
        chip = row > 0
        placements.append(
            Placement(
                log=log(n, diameter),
                x=first + column * pitch,
                y=first + row * pitch,
                order=n + 1,
                supports=(placements[n - columns].log.id, "chip") if chip else ("bed",),
                note="flat chip on the left" if chip else "",
                lift=row // 2 + 1,
            )
        )
    return laid(face, placements)


def hexagonal(columns, rows, diameter=0.15, joint=JOINT, edge=EDGE):
    """Rows of `columns` and one less in turn, every log between two of the row below or against a post."""
    pitch = diameter + joint
    rise = pitch * math.sqrt(3) / 2
    face = Face(
        name="hexagonal",
        outline=box(0, 0, columns * pitch - joint + 2 * edge, diameter + (rows - 1) * rise + 2 * edge),
    )
    first = edge + diameter / 2
    placements, below, n = [], [], 0
    for row in range(rows):
        short = row % 2
        this = []
        for column in range(columns - short):
            own = log(n, diameter)
            this.append(own.id)
            placements.append(
                Placement(
                    log=own,
                    x=first + (column + short / 2) * pitch,
                    y=first + row * rise,
                    order=n + 1,
                    supports=_hexagonal_supports(row, column, columns, below),
                    lift=row // 3 + 1,
                )
            )
            n += 1
        below = this
    return laid(face, placements)


def _hexagonal_supports(row, column, columns, below):
    if row == 0:
        return ("bed",)
    if row % 2:
        return (below[column], below[column + 1])
    if column == 0:
        return (below[0], "post")
    return (below[column - 1], "post") if column == columns - 1 else (below[column - 1], below[column])


def bottom_up(face, diameters, *, joint=JOINT, edge=EDGE, lift=0.6):
    """Each log in turn to the lowest place where it rests on two things; those that fit nowhere are left over."""
    lines = list(_surface_lines(face))
    placements, left_over = [], []
    for n, diameter in enumerate(diameters):
        spot = _lowest(diameter / 2, placements, lines, face, (joint, edge))
        if spot is None:
            left_over.append(log(n, diameter))
            continue
        x, y, supports = spot
        own = Placement(log=log(n, diameter), x=x, y=y, order=len(placements) + 1, supports=supports)
        lifts = {p.log.id: p.lift for p in placements}
        least = max((lifts.get(s, 1) for s in supports), default=1)
        placements.append(replace(own, lift=max(least, int((y - diameter / 4) // lift) + 1)))
    layout = laid(face, placements, unused=tuple(own.id for own in left_over))
    return layout, (*stock_of(layout), *left_over)


def _surface_lines(face):
    """Outline and frames as (kind, from, to), the free side on the left."""
    for a, b in zip(face.outline, (*face.outline[1:], face.outline[0]), strict=True):
        yield ("bed" if b[0] > a[0] else "post" if b[0] == a[0] else "head", a, b)
    for hole in face.openings:
        ring = hole.outline[::-1]
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            yield ("frame", a, b)


def _lowest(radius, placements, lines, face, joints):
    """The lowest free spot at which the log touches two things that hold it."""
    joint, edge = joints
    near = placements[-60:]
    discs = [(p.x, p.y, p.log.diameter / 2 + joint + radius, p.log.id) for p in near]
    spots = []
    for (ax, ay, ra, a), (bx, by, rb, b) in combinations(discs, 2):
        spots += [(x, y, (a, b)) for x, y in _two_circles((ax, ay, ra), (bx, by, rb))]
    for kind, start, end in lines:
        for ax, ay, ra, a in discs:
            spots += [(x, y, (a, kind)) for x, y in _circle_and_line((ax, ay, ra), start, end, edge + radius)]
    spots += _on_flats(radius, lines, edge)
    for x, y, supports in sorted(spots, key=lambda s: (s[1], s[0])):
        if _free((x, y, radius), placements, face, joints) and _holds(x, y, supports, placements, lines):
            return x, y, ("bed",) if "bed" in supports else supports
    return None


def _on_flats(radius, lines, edge):
    """Spots in the corners of the bed and, every 20 mm, along every level surface."""
    for kind, (ax, ay), (bx, by) in lines:
        if ay == by and bx > ax and kind in ("bed", "frame"):
            first, last = (ax + edge + radius, bx - edge - radius) if kind == "bed" else (ax, bx)
            for x in np.arange(first, last + 1e-9, 0.02):
                yield float(x), ay + edge + radius, (kind,)


def _two_circles(a, b):
    (ax, ay, ra), (bx, by, rb) = a, b
    d = math.hypot(bx - ax, by - ay)
    if not abs(ra - rb) < d < ra + rb:
        return
    along = (d * d + ra * ra - rb * rb) / (2 * d)
    off = math.sqrt(ra * ra - along * along)
    ux, uy = (bx - ax) / d, (by - ay) / d
    for side in (1, -1):
        yield ax + along * ux - side * off * uy, ay + along * uy + side * off * ux


def _circle_and_line(circle, start, end, away):
    (cx, cy, r), (ax, ay), (bx, by) = circle, start, end
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    px, py = ax - uy * away, ay + ux * away
    along = (cx - px) * ux + (cy - py) * uy
    off = (px + along * ux - cx) ** 2 + (py + along * uy - cy) ** 2
    if off < r * r:
        for t in (along - math.sqrt(r * r - off), along + math.sqrt(r * r - off)):
            if 0 <= t <= length:
                yield px + t * ux, py + t * uy


def _free(own, placements, face, joints):
    (x, y, radius), (joint, edge) = own, joints
    (x0, y0), (x1, y1) = face.outline[0], face.outline[2]
    gap = edge + radius - 1e-9
    if not (x0 + gap <= x <= x1 - gap and y0 + gap <= y <= y1 - gap):
        return False
    for hole in face.openings:
        (hx0, hy0), (hx1, hy1) = hole.outline[0], hole.outline[2]
        if math.hypot(max(hx0 - x, 0, x - hx1), max(hy0 - y, 0, y - hy1)) < gap:
            return False
    others = [(p.x, p.y, p.log.diameter / 2) for p in placements]
    others += [(d.x, d.y, d.diameter / 2) for d in face.obstacles]
    if not others:
        return True
    ox, oy, ro = np.array(others).T
    return bool(np.all(np.hypot(ox - x, oy - y) >= ro + radius + joint - 1e-9))


def _holds(x, y, supports, placements, lines):
    """A level surface, or something lower on either side, one of them well under; for upright posts and frames."""
    if supports in (("bed",), ("frame",)):
        return True
    if "head" in supports or "bed" in supports:
        return "bed" in supports
    under = [p for p in placements if p.log.id in supports]
    if any(p.y >= y for p in under) or max((y - p.y) / math.hypot(p.x - x, p.y - y) for p in under) < 0.26:
        return False
    sides = [p.x - x for p in under]
    if len(sides) == 1:
        walls = [a[0] for _, a, b in lines if a[0] == b[0]]
        sides.append(min(walls, key=lambda w: abs(w - x)) - x)
    return sides[0] * sides[1] < 0


STORED = (
    ("T01-1", 0.06, 0.04250, 0.04250, 1, "bed"),
    ("T01-2", 0.138, 0.16021, 0.08150, 1, "bed"),
    ("T01-3", 0.132, 0.32018, 0.07850, 1, "bed"),
    ("T01-4", 0.079, 0.44796, 0.05200, 1, "bed"),
    ("T01-5", 0.092, 0.55827, 0.05850, 1, "bed"),
    ("T01-6", 0.097, 0.67774, 0.06100, 1, "bed"),
    ("T01-7", 0.064, 0.78194, 0.04450, 1, "bed"),
    ("T01-8", 0.094, 0.88486, 0.05950, 1, "bed"),
    ("T02-1", 0.082, 0.99770, 0.05350, 1, "bed"),
    ("T02-2", 0.063, 1.09473, 0.04400, 1, "bed"),
    ("T02-3", 0.098, 1.13850, 0.13999, 1, "T02-2 post"),
    ("T02-4", 0.068, 0.80740, 0.13187, 1, "T01-7 T01-8"),
    ("T02-5", 0.078, 0.49148, 0.14590, 1, "T01-4 T01-5"),
    ("T02-6", 0.068, 0.04650, 0.14028, 1, "T01-2 post"),
    ("T02-7", 0.113, 0.95387, 0.16789, 1, "T01-8 T02-1"),
    ("T02-8", 0.076, 0.61376, 0.15232, 1, "T01-5 T01-6"),
    ("T03-1", 0.084, 0.71622, 0.17529, 1, "T02-4 T02-8"),
    ("T03-2", 0.112, 0.24532, 0.20501, 1, "T01-2 T01-3"),
    ("T03-3", 0.064, 0.39929, 0.17268, 1, "T01-3 T02-5"),
    ("T03-4", 0.071, 0.11675, 0.20349, 1, "T01-2 T02-6"),
    ("T03-5", 0.064, 1.05916, 0.21029, 1, "T02-3 T02-7"),
    ("T03-6", 0.108, 0.83932, 0.24027, 1, "T02-4 T02-7"),
    ("T03-7", 0.122, 0.54796, 0.25742, 1, "T02-5 T02-8"),
    ("T03-8", 0.097, 0.35758, 0.26958, 1, "T03-2 T03-3"),
    ("T04-1", 0.137, 0.69363, 0.30890, 1, "T03-1 T03-7"),
    ("T04-2", 0.098, 1.13850, 0.28058, 1, "T03-5 post"),
    ("T04-3", 0.101, 0.99204, 0.29426, 1, "T02-7 T03-5"),
    ("T04-4", 0.162, 0.15523, 0.33965, 1, "T03-2 T03-4"),
    ("T04-5", 0.064, 0.44917, 0.32194, 1, "T03-7 T03-8"),
    ("T04-6", 0.123, 0.88096, 0.37445, 1, "T03-6 T04-3"),
    ("T04-7", 0.127, 0.31385, 0.39942, 2, "T03-8 T04-4"),
    ("T04-8", 0.071, 1.07402, 0.36908, 1, "T04-2 T04-3"),
    ("T05-1", 0.081, 0.57993, 0.37981, 1, "T03-7 T04-1"),
    ("T05-2", 0.179, 0.10200, 0.52777, 2, "T04-4 post"),
    ("T05-3", 0.109, 0.86700, 0.51476, 2, "T04-6 frame"),
    ("T05-4", 0.148, 0.28776, 0.55981, 2, "T04-7 T05-2"),
    ("T05-5", 0.081, 1.14700, 0.43891, 2, "T04-8 post"),
    ("T05-6", 0.061, 0.04300, 0.25681, 1, "T03-4 post"),
    ("T05-8", 0.066, 0.99306, 0.41585, 2, "T04-6 T04-8"),
    ("T06-1", 0.065, 0.48496, 0.40397, 2, "T04-5 T05-1"),
    ("T06-2", 0.12, 0.07250, 0.69975, 2, "T05-2 post"),
    ("T06-3", 0.056, 0.77015, 0.40328, 2, "T04-1 T04-6"),
    ("T06-4", 0.12, 0.32750, 0.71376, 2, "T05-4 frame"),
    ("T06-5", 0.067, 1.15400, 0.53766, 2, "T05-5 post"),
    ("T06-6", 0.104, 0.86450, 0.64624, 2, "T05-3 frame"),
)
"""A small panel as the plain laying above left it: id, diameter, x, y, lift, supports."""


def stored():
    """A window, a sleeve, a bottle end, 45 logs in two lifts, a stone; the top stands open."""
    face = Face(
        name="S",
        outline=box(0, 0, 1.2, 0.9),
        openings=(Hole(id="W1", outline=box(0.4, 0.45, 0.4, 0.4)),),
        obstacles=(Disc(id="K1", x=1.05, y=0.5, diameter=0.05), Disc(id="B1.1", x=0.2, y=0.75, diameter=0.078)),
    )
    placements = [
        Placement(
            log=Log(id=own, stem=own.split("-")[0], diameter=diameter),
            x=x,
            y=y,
            order=order,
            supports=tuple(supports.split()),
            lift=lift,
        )
        for order, (own, diameter, x, y, lift, supports) in enumerate(STORED, start=1)
    ]
    return laid(face, placements, (Filler(x=1.05, y=0.75, diameter=0.06),))
