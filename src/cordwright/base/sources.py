"""Who says so? The published works, rules of thumb and remembered values that figures stand on."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from cordwright.base.errors import DataError
from cordwright.base.tables import table

Kind = Literal["standard", "book", "paper", "web", "closed form", "common practice", "memory", "assumption", "owner"]
Read = Literal["yes", "secondary", "no"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One row of `data/sources.toml`: what it is, who wrote it, and whether we read it ourselves."""

    key: str
    kind: Kind
    authors: str
    title: str
    year: int | None
    edition: str
    read: Read
    note: str


@cache
def source(key: str) -> Source:
    """Give the source a Cite names.

    Raises:
        DataError: the key is not in the table.
    """
    rows = table("sources")
    if key not in rows:
        raise DataError(f"no source {key!r} in sources.toml")
    row = rows[key]
    return Source(
        key=key,
        kind=row["kind"],
        authors=row.get("authors", ""),
        title=row["title"],
        year=row.get("year"),
        edition=row.get("edition", ""),
        read=row.get("read", "no"),
        note=row.get("note", ""),
    )


def source_keys() -> frozenset[str]:
    """All keys of the table."""
    return frozenset(table("sources"))
