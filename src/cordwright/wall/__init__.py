"""What does the wall take, panel by panel, and how do its joints open on a curve?"""

from cordwright.wall.day import Needs, day_needs, needs_of
from cordwright.wall.faults import find_faults, largest_bead
from cordwright.wall.inputs import Band, Fill, Joints, LaidLog, Lock, Splitting, Swap, WallInput, Wishes
from cordwright.wall.joints import curved_joints, largest_log, outer_joint
from cordwright.wall.needs import mortar_needs
from cordwright.wall.placed import PlacedLift, PlacedPanel, PlacedWall, place_wall
from cordwright.wall.quantities import WallQuantities, panel_quantity, wall_quantities
from cordwright.wall.results import CurvedJoint, PanelQuantity, Wall
from cordwright.wall.wall import reckon_wall

__all__ = [
    "Band",
    "CurvedJoint",
    "Fill",
    "Joints",
    "LaidLog",
    "Lock",
    "Needs",
    "PanelQuantity",
    "PlacedLift",
    "PlacedPanel",
    "PlacedWall",
    "Splitting",
    "Swap",
    "Wall",
    "WallInput",
    "WallQuantities",
    "Wishes",
    "curved_joints",
    "day_needs",
    "find_faults",
    "largest_bead",
    "largest_log",
    "mortar_needs",
    "needs_of",
    "outer_joint",
    "panel_quantity",
    "place_wall",
    "reckon_wall",
    "wall_quantities",
]
