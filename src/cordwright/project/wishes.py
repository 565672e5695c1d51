"""How does the owner want the log ends laid, in building.toml or at the command line, and what is laid already?"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from cordwright.project.document import Document
from cordwright.project.faults import FieldFault, Findings, shown
from cordwright.project.layout_tables import LayoutTable
from cordwright.project.quantity import parse_quantity
from cordwright.project.sheets import Cells, Layout, Row, Sheet, read_sheet
from cordwright.project.supplies import Folder
from cordwright.wall.inputs import Band, LaidLog, Lock, Splitting, Swap, Wishes

LAID: Final = Layout(
    what="logs laid", words=("log", "panel"), lengths=("from_left", "height", "diameter")
)  # fmt: skip
LOCK_FORM: Final = 'write --lock "LOG PANEL FROM-LEFT HEIGHT", such as "T03-2 S 1.20 m 0.45 m"'
SWAP_FORM: Final = 'write --swap "LOG OTHER", such as "T03-2 T05-1"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Wishes as typed at the command line: each does what the same entry of the file does."""

    seed: int | None = None
    pattern: str = ""
    forbid: tuple[str, ...] = ()
    locks: tuple[str, ...] = ()
    swaps: tuple[str, ...] = ()
    laid: tuple[Path, ...] = ()


def with_asked(tables: Mapping[str, Any], asked: Asked | None, findings: Findings) -> Mapping[str, Any]:
    """Add what was asked at the command line to the file's own table, so that it is read and checked alike."""
    layout = tables.get("layout", {})
    if asked is None or not isinstance(layout, dict):
        return tables
    fresh = dict(layout)
    if asked.seed is not None:
        fresh["seed"] = asked.seed
        findings.sheets["layout.seed"] = ("--seed", 1)
    if asked.pattern:
        fresh["pattern"] = asked.pattern
        findings.sheets["layout.pattern"] = ("--pattern", 1)
    _add(fresh, "forbid", "--forbid", asked.forbid, findings)
    _add(
        fresh,
        "locks",
        "--lock",
        [_read(_lock, text, "--lock", n, findings) for n, text in _told(asked.locks)],
        findings,
    )
    _add(
        fresh,
        "swaps",
        "--swap",
        [_read(_swap, text, "--swap", n, findings) for n, text in _told(asked.swaps)],
        findings,
    )
    return {**tables, "layout": fresh} if fresh else tables


def _told(texts: Sequence[str]) -> list[tuple[int, str]]:
    return list(enumerate(texts, start=1))


def _read(reader: Any, text: str, option: str, n: int, findings: Findings) -> dict[str, str] | None:
    try:
        read: dict[str, str] = reader(text)
    except FieldFault as fault:
        findings.sheets[option] = (option, n)
        findings.add_fault(option, fault)
        return None
    return read


def _add(layout: dict[str, Any], key: str, option: str, asked: Sequence[Any], findings: Findings) -> None:
    """Put what was asked after the file's own; what the file has wrong is told when the file is read."""
    own = layout.get(key, [])
    fresh = [a for a in asked if a is not None]
    if not fresh or not isinstance(own, list):
        return
    for n in range(len(fresh)):
        findings.sheets[f"layout.{key}[{len(own) + n}]"] = (option, n + 1)
    layout[key] = [*own, *fresh]


def _lock(text: str) -> dict[str, str]:
    """Read `LOG PANEL FROM-LEFT HEIGHT`; with semicolons between them names may hold blanks.

    Raises:
        FieldFault: not to be read, or in more than one way.
    """
    parts = [part.strip() for part in text.split(";")]
    if len(parts) == 4:
        return dict(zip(("log", "panel", "from_left", "height"), parts, strict=True))
    words = text.split()
    ways = [way for way in _ways(words) if _is_length(way[1]) and _is_length(way[2])]
    if len(parts) != 1 or len(ways) != 1:
        hint = f"{LOCK_FORM}, or part them by semicolons" if ways else LOCK_FORM
        raise FieldFault(f"{shown(text)} is no log with its place", hint)
    panel, from_left, height = ways[0]
    return {"log": words[0], "panel": panel, "from_left": from_left, "height": height}


def _ways(words: Sequence[str]) -> list[tuple[str, str, str]]:
    """All ways to part what follows the log's name into panel and two lengths; a panel's name ends before a figure."""
    rest = words[1:16]
    starts = [n for n, word in enumerate(rest) if n > 0 and re.match(r"[0-9.]", word)]
    return [
        (" ".join(rest[: starts[0]]), " ".join(rest[starts[0] : second]), " ".join(rest[second:]))
        for second in starts[1:]
    ]


def _is_length(text: str) -> bool:
    """Whether words are one length: a figure with its unit, or feet and inches."""
    units = re.findall(r"[A-Za-z'\"]+", text)
    if len(units) != 1 and [u[0].lower() for u in units] not in (["f", "i"], ["'", '"'], ["f", '"'], ["'", "i"]):
        return False
    try:
        parse_quantity(text, "length", "not negative")
    except FieldFault:
        return False
    return True


def _swap(text: str) -> dict[str, str]:
    """Read `LOG OTHER`; with a semicolon between them names may hold blanks.

    Raises:
        FieldFault: not two logs.
    """
    parts = [part.strip() for part in text.split(";")] if ";" in text else text.split()
    if len(parts) != 2 or not all(parts):
        raise FieldFault(f"{shown(text)} does not name two logs", SWAP_FORM)
    return {"log": parts[0], "other": parts[1]}


def wishes_of(document: Document, folder: Folder, findings: Findings, asked: Asked | None = None) -> Wishes | None:
    """Give the wishes and the logs laid; None if there is a fault in them.

    Args:
        document: building.toml with what was asked at the command line.
        folder: where its lists stand.
        findings: where faults go.
        asked: what was asked, for its lists of laid logs.
    """
    before = findings.count
    table = document.one("layout", LayoutTable) or LayoutTable()
    named = document.file_named("layout", "laid")
    files = [folder.place(named)] if named else []
    files += [(path, str(path)) for path in (asked.laid if asked else ())]
    folder.files.extend(asked.laid if asked else ())
    laid: list[LaidLog] = []
    for n, (path, where) in enumerate(files):
        field = "laid" if n == 0 else f"laid-{n + 1}"
        laid += _read_laid(path, where, findings, folder.echo, field=field, first=len(laid))
    if findings.count > before or not document.sound("layout"):
        return None
    return Wishes(
        seed=table.seed,
        pattern=table.pattern,
        bands=tuple(Band(**{**dict(b), "panel": b.panel or ""}) for b in table.bands),
        locks=tuple(Lock(**dict(lock)) for lock in table.locks),
        swaps=tuple(Swap(**dict(swap)) for swap in table.swaps),
        forbidden=table.forbid,
        splitting=Splitting(**dict(table.splits)) if table.splits else None,
        laid=tuple(laid),
    )


def _read_laid(path: Path, where: str, findings: Findings, echo: list[str], *, field: str, first: int) -> list[LaidLog]:
    """Read laid.csv: one laid log a row, in the order of laying.

    Args:
        path: the CSV.
        where: its name in messages.
        findings: where faults go.
        echo: what is told to the owner about the file.
        field: the name its rows have in key paths.
        first: how many laid logs stand in lists before it.
    """
    sheet = read_sheet(path, where, LAID, findings, field)
    if sheet is None or not _has_columns(sheet, findings, field):
        return []
    echo.append(sheet.echo())
    read = [_laid(sheet, row, findings) for row in sheet.rows]
    for n, row in enumerate(sheet.rows):
        findings.sheets[f"laid[{first + n}]"] = (where, row.line)
    return [log for log in read if log is not None]


def _has_columns(sheet: Sheet, findings: Findings, field: str) -> bool:
    missing = [name for name in ("log", "panel", "from_left", "height") if name not in sheet.columns]
    for name in missing:
        findings.sheets.setdefault(field, (sheet.where, 1))
        heading = name if name in LAID.words else f"{name}_mm"
        findings.add(field, f"there is no column {name}", f"add a column {heading} to the headings")
    return not missing


def _laid(sheet: Sheet, row: Row, findings: Findings) -> LaidLog | None:
    cells = Cells(row, findings)
    log = LaidLog(
        log=cells.read("log", lambda: _word(row, "log"), ""),
        panel=cells.read("panel", lambda: _word(row, "panel"), ""),
        from_left=cells.read("from_left", lambda: sheet.length(row, "from_left"), 1.0),
        height=cells.read("height", lambda: sheet.length(row, "height"), 1.0),
        diameter=cells.read("diameter", lambda: sheet.length(row, "diameter") if row.text("diameter") else None, None),
    )
    return log if cells.sound else None


def _word(row: Row, column: str) -> str:
    if not row.text(column):
        raise FieldFault("the cell is blank", f"write the {column}'s name")
    return row.text(column)
