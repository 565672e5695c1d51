"""Where is what was written down kept, so that it is never lost? In `diary.sqlite` beside building.toml.

SQLite with a rollback journal and full sync: a record that was told as kept is on the disk, and a record cut off by a
dying battery leaves the diary as it was before. One file that can be copied. Lines are only ever added, and reading
never changes the file.
"""

import contextlib
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import fields
from pathlib import Path
from typing import Final

from cordwright.base.errors import CordwrightError, DataError
from cordwright.project.diary_lines import FIRST, Draft, Line, mark_of

FILE: Final = "diary.sqlite"
SCHEMA: Final = 1
MARK: Final = 0x436F7264
"""SQLite's application id: this file is a diary of ours."""
PATIENCE: Final = 5.0
"""So long another process may hold the diary before this one gives up [s]."""
COLUMNS: Final = tuple(field.name for field in fields(Line))
N: Final = COLUMNS.index("n")
TABLE: Final = f"""
CREATE TABLE line (
  n INTEGER PRIMARY KEY CHECK (n > 0),
  id TEXT NOT NULL UNIQUE,
  act TEXT NOT NULL CHECK (act IN ('record', 'correction', 'withdrawal')),
  of TEXT NOT NULL,
  kind TEXT NOT NULL,
  day TEXT NOT NULL,
  made TEXT NOT NULL,
  who TEXT NOT NULL,
  source TEXT NOT NULL,
  device TEXT NOT NULL,
  said TEXT NOT NULL,
  typed TEXT NOT NULL,
  before TEXT NOT NULL,
  mark TEXT NOT NULL
);
CREATE TRIGGER only_added_1 BEFORE UPDATE ON line BEGIN SELECT RAISE(ABORT, 'lines are only added'); END;
CREATE TRIGGER only_added_2 BEFORE DELETE ON line BEGIN SELECT RAISE(ABORT, 'lines are only added'); END;
PRAGMA application_id = {MARK};
PRAGMA user_version = {SCHEMA};
"""
UNTOUCHED: Final = "nothing was written and the file is as it was"


def diary_file(folder: Path) -> Path:
    """Where the diary of a project stands."""
    return folder / FILE


def read_lines(path: Path) -> tuple[Line, ...]:
    """All lines of a diary, oldest first; none where there is no diary yet. The file is never changed.

    Raises:
        DataError: damaged, or not a diary of ours, or of a newer release.
        CordwrightError: the file cannot be read, or another process holds it.
    """
    if not path.exists():
        return ()
    _refuse_stump(path)
    try:
        return _lines_in(path)
    except sqlite3.OperationalError as fault:
        if getattr(fault, "sqlite_errorcode", 0) in (
            sqlite3.SQLITE_READONLY_ROLLBACK,
            sqlite3.SQLITE_READONLY_RECOVERY,
        ):
            return _lines_beside(path)
        raise _told(path, fault) from fault
    except sqlite3.DatabaseError as fault:
        raise _told(path, fault) from fault


def _lines_in(path: Path) -> tuple[Line, ...]:
    address = f"{path.resolve().as_uri()}?mode=ro"
    with closing(sqlite3.connect(address, uri=True, timeout=PATIENCE)) as base:
        base.execute("PRAGMA query_only = ON")
        _refuse_stranger(base, path)
        rows = base.execute(f"SELECT {', '.join(COLUMNS)} FROM line ORDER BY n").fetchall()  # noqa: S608 our own names
        if any(type(value) is not str for row in rows for value in row[:N] + row[N + 1 :]):
            raise sqlite3.DatabaseError("a line holds what is no text")
        return tuple(Line(**dict(zip(COLUMNS, row, strict=True))) for row in rows)


def _lines_beside(path: Path) -> tuple[Line, ...]:
    """The lines where a writer died: SQLite undoes its half-written line in a copy, and the file stays as it is."""
    with tempfile.TemporaryDirectory(prefix="diary-") as beside:
        copy = Path(beside) / FILE
        shutil.copy2(path, copy)
        shutil.copy2(f"{path}-journal", f"{copy}-journal")
        with closing(sqlite3.connect(copy)) as base:
            base.execute("SELECT count(*) FROM line").fetchone()
        return _lines_in(copy)


def append(path: Path, drafts: Sequence[Draft]) -> tuple[Line, ...]:
    """Keep lines, all or none; when this returns they are on the disk.

    Args:
        path: the diary; it is begun where there is none.
        drafts: lines in order, their ids not in the diary yet.

    Raises:
        DataError: damaged, or not a diary of ours, or of a newer release; nothing was written.
        CordwrightError: an id that stands already, or another process holds the diary; nothing was written.
    """
    if not path.exists():
        _begin(path)
    _refuse_stump(path)
    try:
        with closing(_opened(path)) as base, _transaction(base):
            _refuse_stranger(base, path)
            _refuse_damage(base)
            return tuple(_add(base, drafts))
    except sqlite3.IntegrityError as fault:
        raise CordwrightError(f"a record of this id stands in the diary already; {UNTOUCHED}") from fault
    except sqlite3.DatabaseError as fault:
        raise _told(path, fault) from fault


def _opened(path: Path) -> sqlite3.Connection:
    address = f"{path.resolve().as_uri()}?mode=rw"
    base = sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None)
    for setting in ("journal_mode = DELETE", "synchronous = FULL", "fullfsync = ON"):
        base.execute(f"PRAGMA {setting}")
    return base


@contextlib.contextmanager
def _transaction(base: sqlite3.Connection) -> Iterator[None]:
    """Hold the diary for writing from before the last line is read until the new ones are kept."""
    base.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        base.execute("ROLLBACK")
        raise
    base.execute("COMMIT")


def _add(base: sqlite3.Connection, drafts: Sequence[Draft]) -> Iterator[Line]:
    n, before = base.execute("SELECT n, mark FROM line ORDER BY n DESC LIMIT 1").fetchone() or (0, FIRST)
    places = ", ".join("?" * len(COLUMNS))
    for number, draft in enumerate(drafts, start=n + 1):
        told = {field.name: getattr(draft, field.name) for field in fields(Draft)}
        line = Line(**told, n=number, before=before, mark=mark_of(draft, before))
        base.execute(
            f"INSERT INTO line ({', '.join(COLUMNS)}) VALUES ({places})",  # noqa: S608 our own names
            [getattr(line, column) for column in COLUMNS],
        )
        before = line.mark
        yield line


def _begin(path: Path) -> None:
    """Make an empty diary whole beside its place and then give it its name, so that no stump of one ever stands."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{FILE}.", suffix=".part", dir=path.parent)
    except OSError as fault:
        raise CordwrightError(f"{path} cannot be written: {fault.strerror or fault}") from fault
    os.close(handle)
    fresh = Path(name)
    try:
        with closing(sqlite3.connect(fresh, isolation_level=None)) as base:
            base.executescript(f"PRAGMA synchronous = FULL; BEGIN; {TABLE} COMMIT;")
        fresh.chmod(0o644)
        _name(fresh, path)
    finally:
        fresh.unlink(missing_ok=True)


def _name(fresh: Path, path: Path) -> None:
    """Give the new diary its name unless another process was first, whose diary then stands."""
    try:
        os.link(fresh, path)
    except FileExistsError:
        return
    except OSError:  # a disk without links; two beginners in one instant are then the owner's to sort out
        if not path.exists():
            fresh.rename(path)


def _refuse_stump(path: Path) -> None:
    if path.is_dir():
        raise DataError(f"{path} is a folder, not a diary")
    if path.stat().st_size == 0:
        hint = "put a copy of it back, or move this one away to begin anew"
        raise DataError(f"{path} is empty, which no diary ever is; {UNTOUCHED}; {hint}")


def _refuse_stranger(base: sqlite3.Connection, path: Path) -> None:
    """Refuse what is not a diary of ours, or one that a newer release wrote."""
    (mark,) = base.execute("PRAGMA application_id").fetchone()
    (schema,) = base.execute("PRAGMA user_version").fetchone()
    if mark != MARK:
        raise DataError(f"{path} is a file of SQLite but no diary; {UNTOUCHED}; move it away")
    if schema != SCHEMA:
        words = f"{path} was written by a newer release (form {schema}, this one knows {SCHEMA})"
        raise DataError(f"{words}; {UNTOUCHED}; install that release")


def _refuse_damage(base: sqlite3.Connection) -> None:
    """Look through the file before anything is added to it."""
    (word,) = base.execute("PRAGMA quick_check(1)").fetchone()
    if len(word) > 2:  # SQLite answers in two letters where it finds nothing
        fault = sqlite3.DatabaseError(word)
        fault.sqlite_errorcode = sqlite3.SQLITE_CORRUPT
        raise fault


def _told(path: Path, fault: sqlite3.DatabaseError) -> CordwrightError:
    """What SQLite found, in words."""
    code = getattr(fault, "sqlite_errorcode", 0) & 0xFF
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        words = f"another process holds {path} for more than {PATIENCE:g} s; {UNTOUCHED}; close it and try again"
        return CordwrightError(words)
    if code in (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT):
        hint = "put a copy of it back; an export of yours (diary.json, diary.csv) holds the lines in plain text"
        return DataError(f"{path} is damaged ({fault}); {UNTOUCHED}; {hint}")
    return CordwrightError(f"{path} cannot be used ({fault}); {UNTOUCHED}; look at its permissions and the disk")
