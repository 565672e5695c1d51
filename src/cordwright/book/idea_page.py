"""How does the first sketch read on one page?"""

from collections.abc import Iterator
from math import floor, log10

from cordwright.base import Caution, Figure, Value
from cordwright.book.formats import Units, show_number, unit_of
from cordwright.idea import Idea

LOCALE = "en"
"""A footprint on the command line has no project, hence no locale of its own."""


def idea_lines(idea: Idea, units: Units) -> Iterator[str]:
    """Give the sketch line by line: ranges first, then whom to ask what, then what can hurt.

    Args:
        idea: the worked sketch.
        units: the system in which to show it.
    """
    yield "Could I? A first sketch from the footprint alone: ranges, not a plan. Not reviewed by an engineer."
    yield ""
    for figure in idea.figures:
        yield f"  {figure.label:<42} {_range(figure, units)}"
    yield ""
    yield "Each range is a spread of common values, or remembered ones; your own plan, stems and buckets replace them."
    yield from _asked("Ask the building authority, and write down who answered and when:", idea.authority)
    yield from _asked("Ask the insurer:", idea.insurer)
    yield ""
    for caution in idea.cautions:
        yield from _caution(caution)


def _range(figure: Figure, units: Units) -> str:
    """Two figures that count: more would promise what a sketch cannot hold."""
    sign, size = unit_of(figure.unit, units)
    middle = f"about {_rough(figure.value, size)} {sign}".rstrip()
    return middle if figure.low is None else f"{middle}  ({_rough(figure.low, size)} to {_rough(figure.high, size)})"


def _rough(value: Value | None, size: float) -> str:
    assert isinstance(value, float)
    amount = value / size
    places = 1 - floor(log10(amount))
    return show_number(round(amount, places), max(0, places), LOCALE)


def _asked(heading: str, questions: tuple[str, ...]) -> Iterator[str]:
    yield ""
    yield heading
    yield from (f"  - {question}" for question in questions)


def _caution(caution: Caution) -> Iterator[str]:
    yield f"! {caution.harm} {caution.do}"
    yield f"  Who decides: {caution.decides}"
