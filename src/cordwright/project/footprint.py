"""How is a footprint read from the words typed at the command line?"""

import re
from dataclasses import dataclass

from cordwright.base import Problem
from cordwright.project.quantity import QuantityFault, parse_quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """A footprint in SI [m], or the problems that hindered reading it; `width` None is a round floor."""

    length: float
    width: float | None
    log_end_length: float
    height: float | None
    imperial: bool
    problems: tuple[Problem, ...]


def read_footprint(floor: str, wall: str, height: str) -> Footprint:
    """Read `6.6 m x 4.8 m` (or one diameter), a log-end length and perhaps a height.

    Args:
        floor: inside sizes with units, separated by "x" or the multiplication sign.
        wall: log-end length with its unit.
        height: wall height with its unit, or empty.
    """
    problems: list[Problem] = []

    def metres(field: str, text: str) -> float:
        try:
            return parse_quantity(text, "length")
        except QuantityFault as fault:
            problems.append(Problem(field=field, message=fault.message, hint=fault.hint, where="command line"))
            return 0.0

    sides = [metres("--floor", side) for side in re.split(r"\s*[x×X*]\s*", floor.strip())]
    if len(sides) not in (1, 2):
        problems.append(
            Problem(
                field="--floor",
                message=f"{floor!r} has {len(sides)} sizes",
                hint='give two sides, "6.6 m x 4.8 m", or one diameter, "9 ft"',
                where="command line",
            )
        )
    return Footprint(
        length=sides[0],
        width=sides[1] if len(sides) > 1 else None,
        log_end_length=metres("--wall", wall),
        height=metres("--height", height) if height else None,
        imperial=bool(re.search(r"ft|in|yd|['\"′″]", floor + wall)),
        problems=tuple(problems),
    )
