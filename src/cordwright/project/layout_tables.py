"""What may stand under [layout] in building.toml: how the log ends are to be laid, and what is laid already."""

from typing import Annotated, Literal

from cordwright.project.fields import FileName, Length, Name, Size, choice, whole
from cordwright.project.schema import Table


class SplitsTable(Table):
    """[layout.splits]: which rounds are cleaved, by size or by name, and into what."""

    over: Size | None = None
    logs: tuple[Name, ...] = ()
    into: Annotated[Literal["half", "quarter"], choice("half", "quarter")] = "half"


class BandTable(Table):
    """[[layout.bands]]: a level band in which large or small logs are wanted."""

    panel: Name | None = None
    low: Length
    high: Length
    sizes: Annotated[Literal["large", "small"], choice("large", "small")]


class LockTable(Table):
    """[[layout.locks]]: a named log at a named place."""

    log: Name
    panel: Name
    from_left: Length
    height: Length


class SwapTable(Table):
    """[[layout.swaps]]: two logs that change places."""

    log: Name
    other: Name


class LayoutTable(Table):
    """[layout]: how the log ends are to be laid, and what is laid already."""

    seed: Annotated[int, whole(0, 2**31 - 1)] = 1
    pattern: Annotated[Literal["mixed", "large at the bottom"], choice("mixed", "large at the bottom")] = "mixed"
    forbid: tuple[Name, ...] = ()
    laid: FileName | None = None
    splits: SplitsTable | None = None
    bands: tuple[BandTable, ...] = ()
    locks: tuple[LockTable, ...] = ()
    swaps: tuple[SwapTable, ...] = ()
