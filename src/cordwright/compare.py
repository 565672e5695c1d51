"""What changes when the building is made otherwise, and which input matters most to an answer?

Cases in, plain tables out: nothing here reads a file or runs a study of its own. A case may be one of thousands, so the
grid of a sweep is handed point by point to whatever executor the caller brings.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from datetime import date
from itertools import product

from cordwright.base import Check, CordwrightError, Figure, InputError, Value, Verdict
from cordwright.case import Project
from cordwright.reckon import Reckoning, reckon

Reckoner = Callable[[Project], Reckoning]
Progress = Callable[[float, str], None]


def quiet(_share: float, _what: str) -> None:
    """Progress that nobody watches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One figure in every variant, the building as it stands first; None where a variant has no such figure."""

    key: str
    label: str
    unit: str
    figures: tuple[Figure | None, ...]

    def change(self, variant: int) -> float | None:
        """Difference to the building as it stands, in the figure's unit, days for a date; None where one is unknown."""
        here, there = self.figures[0], self.figures[variant]
        return difference(here.value if here else None, there.value if there else None)

    def is_clear(self, variant: int) -> bool | None:
        """Whether the spreads of the two stand apart; None where one is unknown or neither has a spread."""
        bands = [_band(f) for f in (self.figures[0], self.figures[variant])]
        if None in bands or all(low == high for low, high in filter(None, bands)):
            return None
        (a_low, a_high), (b_low, b_high) = (band for band in bands if band is not None)
        return bool(a_high < b_low or b_high < a_low)  # type: ignore[operator]


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictRow:
    """One check whose verdict is not the same in all variants; None where a variant has no such check."""

    key: str
    label: str
    checks: tuple[Check | None, ...]

    @property
    def verdicts(self) -> tuple[Verdict | None, ...]:
        """The verdict in each variant."""
        return tuple(c.verdict if c else None for c in self.checks)


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Variants side by side: `names` begins with the building as it stands.

    `rows`: figures that are not the same in all; `same`: how many are; `unknown`: keys known in none, which nothing
    can be said of. `verdicts`: checks that judge them otherwise.
    """

    names: tuple[str, ...]
    rows: tuple[Row, ...]
    verdicts: tuple[VerdictRow, ...]
    same: int
    unknown: tuple[str, ...]


def difference(here: Value | None, there: Value | None) -> float | None:
    """What is added from one value to the other, in their unit, days between dates; None where one is unknown."""
    if here is None or there is None:
        return None
    if isinstance(here, date) and isinstance(there, date):
        return float((there - here).days)
    assert not isinstance(here, date)
    assert not isinstance(there, date)
    return there - here


def _band(figure: Figure | None) -> tuple[Value, Value] | None:
    """The spread of a figure, its value where it has none."""
    if figure is None or figure.value is None:
        return None
    low = figure.value if figure.low is None else figure.low
    return low, figure.value if figure.high is None else figure.high


def compare(variants: Mapping[str, Reckoning]) -> Comparison:
    """Set variants side by side and keep what is not the same in all.

    Args:
        variants: reckonings by name, the building as it stands first.

    Raises:
        InputError: fewer than two.
    """
    if len(variants) < 2:
        raise InputError("to compare takes the building as it stands and one variant at least")
    figures = [{f.key: f for f in r.figures} for r in variants.values()]
    rows = [_row(key, figures) for key in _keys(figures)]
    checks = [{c.key: c for c in r.checks} for r in variants.values()]
    judged = [_verdict_row(key, checks) for key in _keys(checks)]
    known = [row for row in rows if any(f and f.value is not None for f in row.figures)]
    changed = tuple(row for row in known if _differs(row))
    return Comparison(
        names=tuple(variants),
        rows=changed,
        verdicts=tuple(row for row in judged if len(set(row.verdicts)) > 1),
        same=len(known) - len(changed),
        unknown=tuple(row.key for row in rows if row not in known),
    )


def _keys(tables: Sequence[Mapping[str, object]]) -> Iterable[str]:
    """Every key once, in the order of the job as the first that has it tells."""
    return dict.fromkeys(key for table in tables for key in table)


def _row(key: str, figures: Sequence[Mapping[str, Figure]]) -> Row:
    found = tuple(table.get(key) for table in figures)
    named = next(f for f in found if f is not None)
    return Row(key=key, label=named.label, unit=named.unit, figures=found)


def _verdict_row(key: str, checks: Sequence[Mapping[str, Check]]) -> VerdictRow:
    found = tuple(table.get(key) for table in checks)
    return VerdictRow(key=key, label=next(c.label for c in found if c is not None), checks=found)


def _differs(row: Row) -> bool:
    return len({None if f is None else (f.value, f.low, f.high, f.bound) for f in row.figures}) > 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One case of a sweep: where it stands on each axis, and its figures, or why there are none."""

    settings: Mapping[str, str]
    figures: Mapping[str, Figure]
    refusal: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A case to be reckoned in a sweep: its settings as words by axis, and the project; None when it cannot be read."""

    settings: Mapping[str, str]
    project: Project | None
    refusal: str = ""


def grid(axes: Mapping[str, Sequence[str]]) -> tuple[Mapping[str, str], ...]:
    """All settings of a grid, the last axis running fastest.

    Args:
        axes: values as words by axis.
    """
    return tuple(dict(zip(axes, values, strict=True)) for values in product(*axes.values()))


def sweep(
    cases: Sequence[Case],
    executor: Executor,
    keys: Sequence[str] = (),
    *,
    reckoner: Reckoner = reckon,
    progress: Progress = quiet,
) -> tuple[Point, ...]:
    """Reckon many cases through an executor; the answer stands in the order of the cases, whoever was first.

    A case that cannot be built is told in its own point and stops no other. When the waiting is broken off, cases not
    begun are called off.

    Args:
        cases: what to reckon.
        executor: any that speaks the interface of `concurrent.futures`; what it runs is pickled.
        keys: figures wanted; none for all.
        reckoner: from case to reckoning; a function that can be pickled by name.
        progress: told the share of the cases that are back.
    """
    waiting = [executor.submit(_figures, case, tuple(keys), reckoner) for case in cases]
    points: list[Point] = []
    try:
        for case, future in zip(cases, waiting, strict=True):
            figures, refusal = future.result()
            points.append(Point(settings=case.settings, figures=figures, refusal=refusal))
            progress(len(points) / len(cases), "cases")
    except BaseException:
        for future in waiting:
            future.cancel()
        raise
    return tuple(points)


def _figures(case: Case, keys: tuple[str, ...], reckoner: Reckoner) -> tuple[dict[str, Figure], str]:
    if case.project is None:
        return {}, case.refusal
    try:
        figures = reckoner(case.project).figures
    except CordwrightError as refusal:
        return {}, str(refusal)
    return {f.key: f for f in figures if not keys or f.key in keys}, ""
