"""How does what the file states about heat become the inputs of that stage?"""

from typing import TYPE_CHECKING

from cordwright.heat.inputs import HeatInput, WallHeatInput
from cordwright.project.schema import WallHeatTable, WallTable

if TYPE_CHECKING:
    from cordwright.project.document import Document


def heat_input(document: "Document") -> HeatInput | None:
    """Give all that is stated about heat; None if a table has a fault."""
    wall = wall_heat(document)
    return None if wall is None else HeatInput(wall=wall)


def wall_heat(document: "Document") -> WallHeatInput | None:
    """Give what is stated of how the wall leads heat, [wall.heat]; None if [wall] has a fault."""
    if not document.sound("wall"):
        return None
    wall = document.one("wall", WallTable)
    stated = wall.heat if wall is not None and wall.heat is not None else WallHeatTable()
    return WallHeatInput(**dict(stated))
