"""What does the wall lose, where is it cold, and what drives it?"""

from cordwright.heat.conductivity import Conductivity, WallMaterials, wood_conductivity
from cordwright.heat.drivers import Driver, Drivers
from cordwright.heat.faults import find_wall_heat_faults
from cordwright.heat.inputs import HeatInput, WallHeatInput
from cordwright.heat.laid_wall import LaidWall, laid_diameters
from cordwright.heat.materials import grains_of_logs, wall_materials
from cordwright.heat.panel_heat import HeatStudy, PanelHeat
from cordwright.heat.section import SectionU, WallSectionU, combined, section_of, wall_section
from cordwright.heat.wall_heat import WallHeat, reckon_wall_heat

__all__ = [
    "Conductivity",
    "Driver",
    "Drivers",
    "HeatInput",
    "HeatStudy",
    "LaidWall",
    "PanelHeat",
    "SectionU",
    "WallHeat",
    "WallHeatInput",
    "WallMaterials",
    "WallSectionU",
    "combined",
    "find_wall_heat_faults",
    "grains_of_logs",
    "laid_diameters",
    "reckon_wall_heat",
    "section_of",
    "wall_materials",
    "wall_section",
    "wood_conductivity",
]
