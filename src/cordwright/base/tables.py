"""Where do the packaged tables stand, and who reads them?

Every table is a text file in `cordwright/data`; each row names its source. They are read once, on first use.
"""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from cordwright.base.errors import DataError
from cordwright.base.values import Caution, Cite


@cache
def table(name: str) -> Mapping[str, Any]:
    """Read one packaged table, `data/NAME.toml`.

    Raises:
        DataError: there is no such table.
    """
    resource = files("cordwright.data").joinpath(f"{name}.toml")
    if not resource.is_file():
        raise DataError(f"there is no table {name}.toml in the package")
    return MappingProxyType(tomllib.loads(resource.read_text(encoding="utf-8")))


def cite(text: str) -> Cite:
    """Make a Cite of a table's short form, `key` or `key: where`."""
    key, _, where = text.partition(":")
    return Cite(key.strip(), where.strip())


@cache
def caution(key: str) -> Caution:
    """Give one caution of `data/cautions.toml`.

    Raises:
        DataError: there is no such caution.
    """
    rows = table("cautions")
    if key not in rows:
        raise DataError(f"there is no caution {key!r}")
    row = rows[key]
    return Caution(
        key=key, harm=row["harm"], do=row["do"], decides=row["decides"], sources=tuple(cite(s) for s in row["sources"])
    )
