"""What may the owner read? A figure, a check, a step of its working, a problem in their file, a caution."""

import math
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Literal

from cordwright.base.errors import InputError
from cordwright.base.units import is_figure_unit

Value = float | date
Bound = Literal["exact", "at_least", "at_most", "unknown"]
Verdict = Literal["holds", "close", "short", "not judged"]
Severity = Literal["error", "warning"]


@dataclass(frozen=True, slots=True)
class Cite:
    """One place in one source: a key of `data/sources.toml` and where in it.

    The owner's own statements are sources too: key "owner" (their file) or "local-rule" (a rule someone told them),
    with who said it and when in `where`.
    """

    key: str
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of a working: a word or symbol, its value, how it came about and where that comes from."""

    symbol: str
    value: float | None
    unit: str
    formula: str = ""
    source: Cite | None = None


def _refuse_nan(key: str, *values: Value | None) -> None:
    if any(isinstance(v, float) and not math.isfinite(v) for v in values):
        raise InputError(f"{key}: a figure must be a finite number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One number the owner may read, with its spread, its sources and its working.

    `value` is None exactly when `bound` is "unknown"; `missing` then names what to state or measure. "at_least" and
    "at_most" say that the value is a limit because something is missing (a blank price, say).

    Raises:
        InputError: not finite, a unit no figure may carry, or a spread that does not hold its value.
    """

    key: str
    label: str
    value: Value | None
    unit: str
    low: Value | None = None
    high: Value | None = None
    bound: Bound = "exact"
    missing: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()
    steps: tuple[Step, ...] = ()

    def __post_init__(self) -> None:
        _refuse_nan(self.key, self.value, self.low, self.high)
        if not is_figure_unit(self.unit):
            raise InputError(f"{self.key}: no figure carries the unit {self.unit!r}")
        if (self.value is None) != (self.bound == "unknown"):
            raise InputError(f"{self.key}: a figure without a value is unknown, and only then")
        if self.value is None and not self.missing:
            raise InputError(f"{self.key}: an unknown figure names what is missing")
        if not _ordered(self.low, self.value, self.high):
            raise InputError(f"{self.key}: the spread {self.low} to {self.high} does not hold {self.value}")


def _ordered(*values: Value | None) -> bool:
    known = [v for v in values if v is not None]
    return all(a <= b for a, b in pairwise(known))  # type: ignore[operator]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """Capacity must cover demand; low and high are the spread of the demand.

    For "at least" rules demand is what is wanted and capacity what there is. Margin, ratio and verdict are derived, so
    that they cannot disagree. A check with a missing side is not judged and says why in `not_judged`.

    Raises:
        InputError: not finite, a spread that does not hold the demand, or a missing side without a reason.
    """

    key: str
    label: str
    demand: float | None
    capacity: float | None
    unit: str
    low: float | None = None
    high: float | None = None
    sources: tuple[Cite, ...] = ()
    steps: tuple[Step, ...] = ()
    not_judged: str = ""

    def __post_init__(self) -> None:
        _refuse_nan(self.key, self.demand, self.capacity, self.low, self.high)
        if not is_figure_unit(self.unit):
            raise InputError(f"{self.key}: no check carries the unit {self.unit!r}")
        if (self.demand is None or self.capacity is None) and not self.not_judged:
            raise InputError(f"{self.key}: a check with a missing side says why it is not judged")
        if not _ordered(self.low, self.demand, self.high):
            raise InputError(f"{self.key}: the spread {self.low} to {self.high} does not hold {self.demand}")

    @property
    def margin(self) -> float | None:
        """Capacity less demand, None when not judged."""
        if self.not_judged or self.demand is None or self.capacity is None:
            return None
        return self.capacity - self.demand

    @property
    def ratio(self) -> float | None:
        """Demand over capacity, None when not judged or when there is no capacity at all."""
        if self.margin is None or not self.capacity:
            return None
        assert self.demand is not None
        return self.demand / self.capacity

    @property
    def verdict(self) -> Verdict:
        """Holds, close (only the spread crosses the limit), short, or not judged."""
        if self.margin is None:
            return "not judged"
        if self.margin < 0:
            return "short"
        assert self.capacity is not None
        return "close" if self.high is not None and self.high > self.capacity else "holds"


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """A fault in the owner's file: where, what is wrong, what is allowed, what to do.

    `field` is the key path (`openings[1].from_left`). A stage leaves `where` and `line` blank; reading fills them in.
    """

    field: str
    message: str
    hint: str
    severity: Severity = "error"
    where: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = f"{self.where}:{self.line}" if self.line is not None else self.where
        mark = "warning: " if self.severity == "warning" else ""
        return f"{place}: {self.field}: {mark}{self.message}; {self.hint}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A harm that can come of the work at hand, what to do, and who decides."""

    key: str
    harm: str
    do: str
    decides: str
    sources: tuple[Cite, ...] = ()
