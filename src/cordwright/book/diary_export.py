"""How does the diary leave the house, for an official or for safe keeping? CSV, JSON and PDF, with dates and hashes.

Every line is given out as it was kept, corrections and withdrawals too. The JSON holds all that is needed to reckon the
chain of hashes again without this tool; docs/guide.md tells how.
"""

import csv
import hashlib
import io
import json
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, Final

from cordwright.base import CordwrightError, Entry
from cordwright.base.records import KINDS
from cordwright.book.content import Book, Sheet
from cordwright.book.diary_words import record_words
from cordwright.book.formats import show_date
from cordwright.book.lettering import Lettering
from cordwright.book.lists import harmless
from cordwright.book.sheets.diary import chain_sheet, diary_sheet
from cordwright.book.svg import plain
from cordwright.book.typst_backend import set_pdf
from cordwright.case import Project
from cordwright.project.diary_lines import Line, head_of, read_said, records_of, roots, said_json, standing_lines
from cordwright.project.saving import save_atomically
from cordwright.reckon import Reckoning

HEADS: Final = (
    "n", "record", "stands", "act", "kind", "day", "made", "who", "source", "device", "says", "si", "typed", "hash",
)  # fmt: skip


def entry_json(entry: Entry) -> Mapping[str, Any]:
    """One record as it stands, as plain values in SI."""
    kind = next(name for name, each in KINDS.items() if isinstance(entry.said, each))
    return {
        "id": entry.id,
        "kind": kind,
        "day": entry.day.isoformat(),
        "made": entry.made.isoformat(),
        "who": entry.who,
        "source": entry.source,
        "device": entry.device,
        "said": json.loads(said_json(entry.said)),
    }


def line_json(line: Line) -> Mapping[str, Any]:
    """One line as it was kept; `said` is the very text that its hash was made of."""
    return {
        "n": line.n,
        "id": line.id,
        "act": line.act,
        "of": line.of,
        "kind": line.kind,
        "day": line.day,
        "made": line.made,
        "who": line.who,
        "source": line.source,
        "device": line.device,
        "said": line.said,
        "typed": line.typed,
        "before": line.before,
        "hash": line.mark,
    }


def to_json(lines: Sequence[Line], project: str) -> str:
    """The whole diary as JSON: every line, the hash of the whole, and the records as they stand."""
    content = {
        "schema": 1,
        "kind": "cordwright-diary-export",
        "project": project,
        "hash": head_of(lines),
        "lines": [line_json(line) for line in lines],
        "standing": [entry_json(entry) for entry in records_of(lines).entries],
    }
    return json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def to_csv(lines: Sequence[Line], lettering: Lettering) -> str:
    """Every line as a row; words that a spreadsheet would take for a formula get a single quote before them."""
    root, standing = roots(lines), {line.id for line in standing_lines(lines).values()}
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for line in lines:
        cells = (
            root[line.id],
            "yes" if line.id in standing else "no",
            line.act,
            line.kind,
            line.day,
            line.made,
            line.who,
            line.source,
            line.device,
            record_words(read_said(line.kind, line.said), lettering),
            line.said,
            line.typed,
            line.mark,
        )
        writer.writerow([line.n, *(harmless(plain(cell)) for cell in cells)])
    return out.getvalue()


def paper(sheets: Sequence[Sheet], project: Project, lettering: Lettering, today: date, mark: str = "") -> bytes:
    """Some sheets as PDF bytes.

    Args:
        sheets: in order.
        project: the owner's case, for the foot.
        lettering: the owner's language.
        today: the day they are made.
        mark: names the state of what they stand on.
    """
    revision = f"revision {project.revision}" if project.revision else ""
    foot = " · ".join(part for part in (project.name, show_date(today, lettering.locale), revision) if part)
    book = Book(title=project.name, foot=foot, file_mark=mark, sheets=tuple(sheets))
    with tempfile.TemporaryDirectory(prefix="paper-") as root:
        return set_pdf(book, Path(root), today)


def export_diary(
    lines: Sequence[Line], project: Project, reckoning: Reckoning, lettering: Lettering, *, folder: Path, today: date
) -> tuple[Path, ...]:
    """Write the diary as CSV, JSON and PDF, and a list of the files' SHA-256 that `sha256sum -c` reads.

    Args:
        lines: all lines of the diary.
        project: the owner's case.
        reckoning: the building worked out with the diary.
        lettering: the owner's units and language.
        folder: where they are put; made where there is none.
        today: the day of the export.

    Raises:
        CordwrightError: the folder cannot be written.
    """
    head = head_of(lines)
    sheets = (diary_sheet(records_of(lines), reckoning, lettering), chain_sheet(lines, head, lettering))
    files = {
        "diary.csv": to_csv(lines, lettering).encode(),
        "diary.json": to_json(lines, project.name).encode(),
        "diary.pdf": paper(sheets, project, lettering, today, head[:12]),
    }
    files["diary.sha256"] = "".join(_sum_lines(files)).encode()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            save_atomically(folder / name, content)
    except OSError as fault:
        raise CordwrightError(f"the diary could not be written to {folder}: {fault.strerror or fault}") from fault
    return tuple(folder / name for name in files)


def _sum_lines(files: Mapping[str, bytes]) -> Iterator[str]:
    yield from (f"{hashlib.sha256(content).hexdigest()}  {name}\n" for name, content in files.items())
