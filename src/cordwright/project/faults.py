"""How does a fault in the owner's file become a problem with a line and a way out?"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from difflib import get_close_matches
from typing import Final

from cordwright.base import Problem, Severity
from cordwright.project.lines import parent_path

LONGEST_SHOWN: Final = 60
MOST_PROBLEMS: Final = 200
"""More faults than this in one reading help nobody; the rest are counted in one line."""


class FieldFault(ValueError):  # noqa: N818 - a fault of the owner's words, not an error of the program
    """One value that cannot be taken: what is wrong with it and what is accepted."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(f"{message}; {hint}")
        self.message = message
        self.hint = hint


def shown(value: object) -> str:
    """Show a value of the owner's file in a message: on one line, short, in the file's own spelling."""
    if isinstance(value, list | tuple | Mapping):
        return "a table" if isinstance(value, Mapping) else "a list"
    if isinstance(value, bool):
        return str(value).lower()
    text = f'"{value}"' if isinstance(value, str) else _digits(value)
    plain = "".join(sign if sign.isprintable() else f"\\u{ord(sign):04x}" for sign in text[: LONGEST_SHOWN + 1])
    return plain if len(text) <= LONGEST_SHOWN else plain[: LONGEST_SHOWN - 3] + "..."


def _digits(value: object) -> str:
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a number of more than 15 digits"
    return str(value)


def nearest(word: str, allowed: Collection[str]) -> str:
    """Hint at the nearest allowed word and list them all."""
    names = [str(name) for name in allowed]
    near = get_close_matches(word[:100], names, n=1, cutoff=0.5)
    listed = f"allowed: {', '.join(names)}"
    return f"the nearest is {near[0]}; {listed}" if near else listed


class Findings:
    """All faults of one reading, each with its file and line.

    Args:
        where: building.toml as messages name it.
        lines: line of each key path in it.
    """

    def __init__(self, where: str, lines: Mapping[str, int]) -> None:
        self.where = where
        self.lines = lines
        self.sheets: dict[str, tuple[str, int]] = {}
        """Key path of a row that stands in a CSV, with that file and line."""
        self._problems: dict[Problem, None] = {}

    @property
    def errors(self) -> bool:
        """Whether anything found hinders the reckoning."""
        return self.count > 0

    @property
    def count(self) -> int:
        """How many errors were found so far: a reader that finds none of its own adds none."""
        return sum(p.severity == "error" for p in self._problems)

    def add(self, field: str, message: str, hint: str, severity: Severity = "error") -> None:
        """Note a fault at a key path."""
        self.take([Problem(field=field, message=message, hint=hint, severity=severity)])

    def add_fault(self, field: str, fault: FieldFault) -> None:
        """Note a fault that a reader of one value found."""
        self.add(field, fault.message, fault.hint)

    def take(self, problems: Iterable[Problem]) -> None:
        """Note problems, placing those that have no file yet."""
        for problem in problems:
            self._problems.setdefault(problem if problem.where else self._placed(problem))

    def _placed(self, problem: Problem) -> Problem:
        path = problem.field
        while path:
            if path in self.sheets:
                where, line = self.sheets[path]
                return replace(problem, where=where, line=line)
            if path in self.lines:
                return replace(problem, where=self.where, line=self.lines[path])
            path = parent_path(path)
        return replace(problem, where=self.where, line=1)

    def sorted(self) -> tuple[Problem, ...]:
        """Give all problems by file and line, building.toml first."""
        found = sorted(self._problems, key=lambda p: (p.where != self.where, p.where, p.line or 0))
        if len(found) <= MOST_PROBLEMS:
            return tuple(found)
        rest = len(found) - MOST_PROBLEMS
        severity: Severity = "error" if any(p.severity == "error" for p in found[MOST_PROBLEMS:]) else "warning"
        more = Problem(
            field="file", message=f"{rest} more faults", hint="mend these first", where=self.where, severity=severity
        )
        return (*found[:MOST_PROBLEMS], more)
