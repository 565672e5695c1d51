"""Which stems, sticks and diameters did the owner measure?"""

import re
from pathlib import Path
from typing import Final

from cordwright.project.faults import FieldFault, Findings, shown
from cordwright.project.quantity import parse_quantity
from cordwright.project.sheets import Cells, Layout, Row, Sheet, read_sheet
from cordwright.timber.inputs import Defect, Stem

STEMS: Final = Layout(
    what="stems",
    words=("stem", "species", "bark", "defects", "felled", "peeled", "stacked"),
    numbers=("count",),
    lengths=("butt_diameter", "top_diameter", "butt_girth", "top_girth", "diameter", "girth", "length"),
)
PIECES: Final = Layout(what="diameters", numbers=("count",), lengths=("diameter", "girth"))
PI: Final = 3.141592653589793
MOST_ALIKE: Final = 10_000
LONGEST_STEM: Final = 100.0
"""No tree gives a longer stem [m]; a longer one is a slipped unit."""
BARK: Final = {"off": False, "no": False, "on": True, "yes": True}
_STRETCH: Final = re.compile(
    r"\s*([^–:]+?)\s*(?:–|\bto\b|-(?=\s*[0-9.,]+(?:\s*[^0-9\s/-]|$)))\s*([^–:]+?)\s*(?::\s*(.*))?"
)


def read_stems(path: Path, where: str, findings: Findings, echo: list[str]) -> tuple[Stem, ...]:
    """Read stems.csv: one stem or stick a row, or `count` alike."""
    sheet = read_sheet(path, where, STEMS, findings, "stems")
    if sheet is None or not _has_columns(sheet, findings, ("stem", "species", "length")):
        return ()
    ends = _ends(sheet, findings)
    if ends is None:
        return ()
    echo.append(sheet.echo())
    if "bark" not in sheet.columns:
        echo.append(f"{where}: no column bark; diameters are taken as without bark")
    stems = [_stem(sheet, row, ends, findings) for row in sheet.rows]
    _note_repeated(sheet, findings)
    return tuple(stem for stem in stems if stem is not None)


def _has_columns(sheet: Sheet, findings: Findings, wanted: tuple[str, ...]) -> bool:
    missing = [name for name in wanted if name not in sheet.columns]
    for name in missing:
        _note_heading(sheet, findings, "stems", f"there is no column {name}", f"add a column {name} to the headings")
    return not missing


def _note_heading(sheet: Sheet, findings: Findings, field: str, message: str, hint: str) -> None:
    findings.sheets.setdefault(field, (sheet.where, 1))
    findings.add(field, message, hint)


def _ends(sheet: Sheet, findings: Findings) -> tuple[str, str] | None:
    """The columns that give the butt and the top: both measured, or one size for both."""
    names = sheet.columns
    butts = [n for n in ("butt_diameter", "butt_girth", "diameter", "girth") if n in names]
    tops = [n for n in ("top_diameter", "top_girth", "diameter", "girth") if n in names]
    if len(butts) == len(tops) == 1:
        return butts[0], tops[0]
    hint = "give butt_diameter_mm and top_diameter_mm (or butt_girth_cm and top_girth_cm), or diameter_mm for both ends"
    message = "the columns do not say the size at both ends, each once"
    _note_heading(sheet, findings, "stems", message, hint)
    return None


def _stem(sheet: Sheet, row: Row, ends: tuple[str, str], findings: Findings) -> Stem | None:
    cells = Cells(row, findings)
    butt, top = (cells.read(end, lambda end=end: _diameter(sheet, row, end), 1.0) for end in ends)  # type: ignore[misc]
    length = cells.read("length", lambda: _stem_length(sheet, row), 1.0)
    stem = Stem(
        name=cells.read("stem", lambda: _word(row, "stem"), ""),
        species=cells.read("species", lambda: _word(row, "species"), ""),
        butt_diameter=butt,
        top_diameter=top,
        length=length,
        bark=cells.read("bark", lambda: _bark(sheet, row, findings), False),
        defects=cells.read("defects", lambda: read_defects(row.text("defects"), length), ()),
        count=cells.read("count", lambda: sheet.whole(row, "count", 1, MOST_ALIKE), 1),
        felled=row.text("felled"),
        peeled=row.text("peeled"),
        stacked=row.text("stacked"),
    )
    return stem if cells.sound else None


def _diameter(sheet: Sheet, row: Row, column: str) -> float:
    """A diameter as measured, or from the girth of a round stem."""
    size = sheet.length(row, column)
    return size / PI if column.endswith("girth") else size


def _stem_length(sheet: Sheet, row: Row) -> float:
    length = sheet.length(row, "length")
    if length > LONGEST_STEM:
        raise FieldFault(f"{length:g} m is longer than any stem", "look for a slipped unit")
    return length


def _word(row: Row, column: str) -> str:
    if not row.text(column):
        raise FieldFault("the cell is blank", f"write the {column}'s name")
    return row.text(column)


def _bark(sheet: Sheet, row: Row, findings: Findings) -> bool:
    """Whether the diameters were taken over bark; a blank beside stated ones is told, never silently off."""
    word = row.text("bark").lower()
    if not word:
        if "bark" in sheet.columns:
            message = "the cell is blank; the diameters are taken as without bark"
            findings.add(f"{row.path}.bark", message, "write on or off: bark is about a sixth of the face", "warning")
        return False
    if word not in BARK:
        raise FieldFault(f"{shown(word)} does not say whether the bark is on", "write on or off")
    return BARK[word]


def read_defects(text: str, length: float) -> tuple[Defect, ...]:
    """Read stretches to cut out, from the butt: `1.2-1.5 m; 3.0-3.1 m: rot`.

    Args:
        text: the owner's words, empty for none.
        length: of the stem [m].

    Raises:
        FieldFault: not two places on the stem, the nearer first.
    """
    return tuple(_defect(part, length) for part in text.split(";") if part.strip())


def _defect(text: str, length: float) -> Defect:
    forms = 'write from-to with a unit, from the butt end, parted by semicolons: "1.2-1.5 m; 3.0-3.1 m: rot"'
    match = _STRETCH.fullmatch(text[:200])
    if not match:
        raise FieldFault(f"{shown(text.strip())} is no stretch of a stem", forms)
    first, last, what = match[1], match[2], match[3] or ""
    if re.fullmatch(r"[0-9.,/ ]+", first):
        first = f"{first} {re.sub(r'^[0-9.,/ ]+', '', last)}"
    start, end = parse_quantity(first, "length"), parse_quantity(last, "length")
    if not start < end <= length + 1e-9:
        raise FieldFault(f"{shown(text.strip())} does not lie on a stem of {length:g} m, the nearer end first", forms)
    return Defect(start=start, end=end, what=what.strip())


def _note_repeated(sheet: Sheet, findings: Findings) -> None:
    seen: dict[str, int] = {}
    for row in sheet.rows:
        name = row.text("stem")
        if name in seen:
            hint = "give each stem a name of its own"
            findings.add(f"{row.path}.stem", f"{shown(name)} stands on line {seen[name]} already", hint)
        elif name:
            seen[name] = row.line


def read_diameters(path: Path, where: str, findings: Findings, echo: list[str], field: str) -> tuple[float, ...]:
    """Read a sample of a pile's diameters [m], one piece a row, or `count` alike.

    Args:
        path: the CSV.
        where: its name in messages.
        findings: where faults go.
        echo: what is told to the owner about the file.
        field: the key path of the list.
    """
    sheet = read_sheet(path, where, PIECES, findings, field)
    if sheet is None:
        return ()
    sizes = [name for name in ("diameter", "girth") if name in sheet.columns]
    if len(sizes) != 1:
        _note_heading(sheet, findings, field, "there is no one column of sizes", "give diameter_mm or girth_cm")
        return ()
    echo.append(sheet.echo())
    return tuple(size for row in sheet.rows for size in _pieces(sheet, row, sizes[0], findings))


def _pieces(sheet: Sheet, row: Row, column: str, findings: Findings) -> tuple[float, ...]:
    cells = Cells(row, findings)
    size = cells.read(column, lambda: _diameter(sheet, row, column), 1.0)
    count = cells.read("count", lambda: sheet.whole(row, "count", 1, MOST_ALIKE), 1)
    return (size,) * count if cells.sound else ()
