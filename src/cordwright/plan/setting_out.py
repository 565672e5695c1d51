"""Which marks are strung out on the ground, and what must the tape read between them?

Corners of the inside face are A, B, C ... in order. Distances between any two corners check that the shape is square.
"""

import math
from collections.abc import Iterator
from itertools import combinations
from string import ascii_uppercase

from cordwright.plan import oval as ovals
from cordwright.plan import polygon as polygons
from cordwright.plan.inputs import PlanInput, Point, RoundOutline
from cordwright.plan.outline import Shape
from cordwright.plan.oval import Oval
from cordwright.plan.polygon import Polygon
from cordwright.plan.results import SettingOut

ALL_DIAGONALS = 12
"""Up to so many corners every diagonal is told; beyond, the distances to A and to the corner half-way round."""

PARTS = (8, 12, 16)
"""Equal parts into which a circle is stepped off."""

STEPS = 8
"""Even steps along half an oval's long axis at which its curve is measured off."""

Row = tuple[str, str, str, float]
Points = dict[str, Point]


def chord(radius: float, angle: float) -> float:
    """Give the straight distance across an arc of `radius` [m] and `angle` [rad], in metres.

    Sources: closed-form-plane.
    """
    return 2 * radius * math.sin(angle / 2)


def sagitta(radius: float, across: float) -> float:
    """Give how far an arc of `radius` [m] bulges past the middle of a chord `across` [m] long, in metres.

    Sources: closed-form-plane.
    """
    half = across / 2
    # The plain form r - sqrt(r2 - h2) loses digits on a flat arc.
    return half**2 / (radius + math.sqrt(max(0.0, radius**2 - half**2)))


def letter(number: int) -> str:
    """Name corner `number`, counted from 0: A to Z, then AA, AB ..."""
    round_, place = divmod(number, len(ascii_uppercase))
    return (letter(round_ - 1) if round_ else "") + ascii_uppercase[place]


def setting_out(plan: PlanInput, shape: Shape) -> SettingOut:
    """Work out the marks and distances of an outline."""
    if isinstance(shape, Polygon):
        return _polygon(shape)
    return _circle(plan, shape) if isinstance(plan.outline, RoundOutline) else _oval(shape)


def _polygon(shape: Polygon) -> SettingOut:
    corners: list[Point] = [(float(x), float(y)) for x, y in shape.corners]
    names = [letter(n) for n in range(len(corners))]
    points: Points = dict(zip(names, corners, strict=True))
    rows: list[Row] = list(_sides(shape, names))
    rows += [("diagonal", names[i], names[j], math.dist(corners[i], corners[j])) for i, j in _diagonals(len(corners))]
    for n, bend in enumerate(shape.bends):
        if bend:
            rows += _rounding(shape, n, names[n], points)
    return SettingOut(points=tuple(points.items()), rows=tuple(rows))


def _sides(shape: Polygon, names: list[str]) -> Iterator[Row]:
    """Give the sides between sharp corners, where the strings cross, whether or not the corners are rounded."""
    for n, length in enumerate(shape.sides):
        yield ("side", names[n], names[(n + 1) % len(names)], float(length))


def _diagonals(count: int) -> Iterator[tuple[int, int]]:
    half = count // 2
    for i, j in combinations(range(count), 2):
        side = j - i == 1 or j - i == count - 1
        if not side and (count <= ALL_DIAGONALS or i in (0, half) or j == half):
            yield i, j


def _rounding(shape: Polygon, n: int, name: str, points: Points) -> Iterator[Row]:
    """Give a rounded corner: tangent points 1 and 2 in the order of the corners, centre 0, chord and sagitta."""
    arc = polygons.arc_points(shape, n, 0.0)
    x, y = polygons.arc_centres(shape)[n]
    centre, first, second = f"{name}0", f"{name}1", f"{name}2"
    points |= {centre: (float(x), float(y)), first: arc[0], second: arc[-1]}
    across = chord(shape.radius, abs(float(shape.turns[n])))
    yield ("offset", name, first, shape.radius * abs(float(shape.tangents[n])))
    yield ("offset", name, second, shape.radius * abs(float(shape.tangents[n])))
    yield ("radius", centre, first, shape.radius)
    yield ("chord", first, second, across)
    yield ("ordinate", first, second, sagitta(shape.radius, across))


def _circle(plan: PlanInput, shape: Oval) -> SettingOut:
    """Give the circle stepped off in equal parts, clockwise from due north: 8.1 is the first of eight marks."""
    radius = shape.half_x
    points: Points = {"O": (0.0, 0.0)}
    rows: list[Row] = [("radius", "O", f"{PARTS[0]}.1", radius)]
    for parts in PARTS:
        angle = 2 * math.pi / parts
        for n in range(parts):
            points[f"{parts}.{n + 1}"] = ovals.point(shape, n * angle - plan.north, 0.0)
        across = chord(radius, angle)
        rows += [
            ("diagonal", f"{parts}.1", f"{parts}.{parts // 2 + 1}", 2 * radius),
            ("chord", f"{parts}.1", f"{parts}.2", across),
            ("ordinate", f"{parts}.1", f"{parts}.2", sagitta(radius, across)),
        ]
    return SettingOut(points=tuple(points.items()), rows=tuple(rows))


def _oval(shape: Oval) -> SettingOut:
    """Give the gardener's way, two stakes and a string, and the curve's offsets from the long axis to check it."""
    long, short = max(shape.half_x, shape.half_y), min(shape.half_x, shape.half_y)
    focus = math.sqrt(long**2 - short**2)

    def at(far: float, aside: float) -> Point:
        return (far, aside) if shape.half_x >= shape.half_y else (-aside, far)

    points: Points = {
        "O": (0.0, 0.0),
        "F1": at(-focus, 0.0),
        "F2": at(focus, 0.0),
        "A": at(-long, 0.0),
        "B": at(long, 0.0),
    }
    points |= {"C": at(0.0, -short), "D": at(0.0, short)}
    rows: list[Row] = [
        ("diagonal", "A", "B", 2 * long),
        ("diagonal", "C", "D", 2 * short),
        ("offset", "O", "F2", focus),
        ("string", "F1", "F2", 2 * long),
    ]
    for n in range(STEPS):
        far = long * n / STEPS
        aside = short * math.sqrt(1 - (n / STEPS) ** 2)
        points |= {f"X{n}": at(far, 0.0), f"Y{n}": at(far, aside)}
        rows += [("offset", "O", f"X{n}", far)] if n else []
        rows.append(("ordinate", f"X{n}", f"Y{n}", aside))
    return SettingOut(points=tuple(points.items()), rows=tuple(rows))
