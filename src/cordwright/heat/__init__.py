"""What does the wall lose, where is it cold, and what drives it?"""

from cordwright.heat.conductivity import Conductivity, WallMaterials, wood_conductivity
from cordwright.heat.inputs import HeatInput, WallHeatInput
from cordwright.heat.materials import wall_materials
from cordwright.heat.section import SectionU, WallSectionU, combined, section_of, wall_section

__all__ = [
    "Conductivity",
    "HeatInput",
    "SectionU",
    "WallHeatInput",
    "WallMaterials",
    "WallSectionU",
    "combined",
    "section_of",
    "wall_materials",
    "wall_section",
    "wood_conductivity",
]
