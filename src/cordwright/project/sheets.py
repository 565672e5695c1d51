"""What does a list kept as CSV hold, whatever program and language it was saved with?

Delimiter and decimal sign are found in the file itself and told to the owner. Units stand in the heading
(`butt_girth_cm`) or in the cell (`8 ft 9 in`). A cell is text: one that looks like a formula is a cell like any other.
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path
from typing import Final, TypeVar

from cordwright.base import Problem
from cordwright.project.faults import FieldFault, Findings, nearest, shown
from cordwright.project.quantity import bounded, parse_quantity, read_number, unit_size
from cordwright.project.texts import read_text

Value = TypeVar("Value")

DELIMITERS: Final = {",": "comma", ";": "semicolon", "\t": "tab"}
LENGTH_SUFFIXES: Final = ("mm", "cm", "m", "in", "ft")
MOST_ROWS: Final = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The columns a list may have; `what` names its rows.

    `words` hold text, `numbers` mere numbers, `lengths` may carry a unit in their heading, `money` its currency.
    """

    what: str
    words: tuple[str, ...] = ()
    numbers: tuple[str, ...] = ()
    lengths: tuple[str, ...] = ()
    money: tuple[str, ...] = ()

    def column(self, heading: str) -> tuple[str, str] | None:
        """Give a heading's column and its unit (or other ending); None is no column of this list."""
        name = heading.strip().lower()
        if name in (*self.words, *self.numbers, *self.lengths):
            return name, ""
        base, _, ending = name.rpartition("_")
        if base in self.lengths and ending in LENGTH_SUFFIXES:
            return base, ending
        return (base, ending.upper()) if base in self.money and ending else None

    @property
    def headings(self) -> tuple[str, ...]:
        """All headings that are understood."""
        with_units = (f"{name}_mm" for name in self.lengths)
        return (*self.words, *self.numbers, *with_units, *self.lengths, *(f"{name}_EUR" for name in self.money))

    def holds_numbers(self, column: str) -> bool:
        """Whether mere numbers stand in a column."""
        return column not in self.words


@dataclass(frozen=True, kw_only=True)
class Row:
    """One line of a list: its key path, its line in the file and its cells by column."""

    path: str
    line: int
    cells: Mapping[str, str]

    def text(self, column: str) -> str:
        """Give a cell without the blanks around it; empty when there is none."""
        return self.cells.get(column, "").strip()


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A list as read: its file, columns with the unit in their heading, delimiter and rows."""

    where: str
    layout: Layout
    columns: Mapping[str, str]
    delimiter: str
    rows: tuple[Row, ...]

    @cached_property
    def _numbers(self) -> tuple[str, ...]:
        columns = [name for name in self.columns if self.layout.holds_numbers(name)]
        return tuple(row.text(name) for row in self.rows for name in columns)

    @cached_property
    def decimal(self) -> str:
        """The decimal sign of the whole file, from every cell that is a mere number; "?" when both are used."""
        points = any(re.fullmatch(r"-?\d*\.\d+", cell) for cell in self._numbers)
        commas = any(re.fullmatch(r"-?\d*,\d+", cell) for cell in self._numbers)
        return "?" if points and commas else "," if commas else "."

    @cached_property
    def comma_is_decimal(self) -> bool:
        """Whether some cell, such as 6,90, can only be read with a decimal comma."""
        sure = re.compile(r"-?(?:\d*,\d{1,2}|\d*,\d{4,}|0,\d+|\d{4,},\d+)")
        return any(sure.fullmatch(cell) for cell in self._numbers)

    def echo(self) -> str:
        """Tell the owner what was found in the file."""
        sign = {",": "decimal comma", ".": "decimal point", "?": "decimal sign unclear"}[self.decimal]
        units = ", ".join(f"{name} in {unit}" for name, unit in self.columns.items() if unit)
        told = f"{self.where}: {len(self.rows)} rows, delimiter {DELIMITERS[self.delimiter]}, {sign}"
        return f"{told}; {units}" if units else told

    def number(self, cell: str) -> Fraction:
        """Read a mere number by the file's decimal sign.

        Raises:
            FieldFault: no number, or one that can be read in two ways.
        """
        negative = cell.startswith("-")
        plain = cell.removeprefix("-")
        if "," in plain and self.decimal == "?":
            raise FieldFault(f"{shown(cell)}: the file uses both , and . as decimal sign", "use one of them throughout")
        if "," in plain and self.comma_is_decimal:
            plain = plain.replace(",", ".") if plain.count(",") == 1 and "." not in plain else plain
        if len(plain) > 20:
            raise FieldFault(f"{shown(cell)} is not a number", "look for a slipped key")
        value = read_number(plain)
        return -value if negative else value

    def length(self, row: Row, column: str) -> float:
        """Read a length in metres: by the unit in the cell, else by the one in the heading.

        Raises:
            FieldFault: blank, no unit anywhere, zero, negative or not to be read.
        """
        cell, unit = row.text(column), self.columns[column]
        if not cell:
            raise FieldFault("the cell is blank", "measure it and fill it in; a blank is not taken for anything")
        if not unit or re.search(r"[^0-9.,/ \-]", cell):
            return parse_quantity(cell, "length", "positive")
        return bounded(f"{cell} {unit}", self.number(cell) * unit_size(unit, "length"), "length", "positive")

    def whole(self, row: Row, column: str, default: int, most: int) -> int:
        """Read a count.

        Raises:
            FieldFault: not a whole number from 1 to `most`.
        """
        cell = row.text(column)
        if not cell:
            return default
        if not re.fullmatch(r"[0-9]{1,6}", cell) or not 1 <= int(cell) <= most:
            raise FieldFault(
                f"{shown(cell)} is no count that makes sense here", f"write a whole number from 1 to {most}"
            )
        return int(cell)


class Cells:
    """One row being read: faults go to its cells, and the row counts as read only when there were none."""

    def __init__(self, row: Row, findings: Findings) -> None:
        self.row = row
        self.findings = findings
        self.sound = True

    def read(self, column: str, reader: Callable[[], Value], instead: Value) -> Value:
        """Read one cell; after a fault give `instead`, which nobody uses."""
        try:
            return reader()
        except FieldFault as fault:
            self.sound = False
            self.findings.add_fault(f"{self.row.path}.{column}", fault)
            return instead


def read_sheet(path: Path, where: str, layout: Layout, findings: Findings, field: str) -> Sheet | None:
    """Read a list, noting every fault of its form.

    Args:
        path: the CSV.
        where: its name in messages.
        layout: the columns it may have.
        findings: where faults go.
        field: the name rows have in key paths: `stems` for `stems[3].length`.
    """
    text, problems = read_text(path, where)
    findings.take(problems)
    if text is None:
        return None
    delimiter = _delimiter(text, layout)
    try:
        lines = list(_records(text, delimiter))
        if not lines:
            raise _Broken(1, "the file is empty", f"begin with a line of headings: {', '.join(layout.headings)}")
    except _Broken as fault:
        findings.take([_problem(field, fault, where, fault.line)])
        return None
    return _sheet(lines, where, delimiter, layout, findings, field=field)


class _Broken(FieldFault):
    """A list that cannot be cut into rows from one line on."""

    def __init__(self, line: int, message: str, hint: str) -> None:
        super().__init__(message, hint)
        self.line = line


def _delimiter(text: str, layout: Layout) -> str:
    """The delimiter under which most headings are columns of this list; a comma where that says nothing."""
    first = next((line for line in text.splitlines() if line.strip()), "")[:10_000]

    def known(delimiter: str) -> int:
        return sum(layout.column(heading.strip('" ')) is not None for heading in first.split(delimiter))

    return max(DELIMITERS, key=lambda d: (known(d), first.count(d)))


def _records(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """Rows that hold anything, each with the line it begins on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True, skipinitialspace=True)
    line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield line, cells
            line = reader.line_num + 1
    except csv.Error as fault:
        hint = 'a cell that begins with a quote " ends with one; save the list as plain CSV'
        raise _Broken(line, f"this is no list: {fault}", hint) from None


def _sheet(
    lines: list[tuple[int, list[str]]], where: str, delimiter: str, layout: Layout, findings: Findings, *, field: str
) -> Sheet | None:
    (heading_line, headings), *records = lines
    found = [layout.column(heading) for heading in headings]
    complaints = [*_unknown(headings, found, layout), *_repeated(found), *_unfit(records, layout)]
    findings.take(_problem(field, fault, where, heading_line) for fault in complaints)
    if complaints:
        return None
    columns = dict(column for column in found if column)
    rows = []
    for i, (line, cells) in enumerate(records):
        path = f"{field}[{i}]"
        findings.sheets[path] = (where, line)
        if len(cells) != len(headings):
            message = f"this row has {len(cells)} cells, the headings are {len(headings)}"
            findings.add(path, message, "put a cell that holds the delimiter in quotes, leave blanks empty")
        else:
            rows.append(Row(path=path, line=line, cells=dict(zip(columns, cells, strict=True))))
    return Sheet(where=where, layout=layout, columns=columns, delimiter=delimiter, rows=tuple(rows))


def _unfit(records: Collection[object], layout: Layout) -> Iterator[FieldFault]:
    if not records:
        yield FieldFault("there is a line of headings and nothing below", f"add a line for each of the {layout.what}")
    if len(records) > MOST_ROWS:
        yield FieldFault(f"there are {len(records)} rows", f"at most {MOST_ROWS} are read")


def _problem(field: str, fault: FieldFault, where: str, line: int) -> Problem:
    return Problem(field=field, message=fault.message, hint=fault.hint, where=where, line=line)


def _unknown(
    headings: Collection[str], found: Collection[tuple[str, str] | None], layout: Layout
) -> Iterator[FieldFault]:
    for heading, column in zip(headings, found, strict=True):
        if column is None:
            yield FieldFault(f"no column is called {shown(heading.strip())}", nearest(heading.strip(), layout.headings))


def _repeated(found: Collection[tuple[str, str] | None]) -> Iterator[FieldFault]:
    for name, times in Counter(column[0] for column in found if column).items():
        if times > 1:
            yield FieldFault(f"{times} columns are {name}", "keep one of them")
