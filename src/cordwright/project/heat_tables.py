"""How does what the file states about heat become the inputs of that stage?"""

from typing import TYPE_CHECKING

from cordwright.heat.inputs import WallHeatInput
from cordwright.project.schema import WallHeatTable, WallTable

if TYPE_CHECKING:
    from cordwright.project.document import Document


def wall_heat(document: "Document") -> WallHeatInput | None:
    """Give what is stated of how the wall leads heat, [wall.heat]; None if [wall] has a fault."""
    if not document.sound("wall"):
        return None
    wall = document.one("wall", WallTable)
    stated = wall.heat if wall is not None and wall.heat is not None else WallHeatTable()
    return WallHeatInput(**dict(stated))
