"""The plan: outline, panels, openings, what is built in, roof shape and setting-out."""

from cordwright.plan.faults import find_faults
from cordwright.plan.inputs import (
    BottleGroup,
    Corners,
    Frame,
    Head,
    Opening,
    Outline,
    OvalOutline,
    PanelSpec,
    PlanInput,
    Point,
    PolygonOutline,
    Post,
    Roof,
    RoundOutline,
    Sleeve,
    WallSection,
)
from cordwright.plan.reckoning import reckon_plan
from cordwright.plan.results import BuildIn, CornerBlock, Obstacle, Panel, PlacedOpening, Plan, SettingOut

__all__ = [
    "BottleGroup",
    "BuildIn",
    "CornerBlock",
    "Corners",
    "Frame",
    "Head",
    "Obstacle",
    "Opening",
    "Outline",
    "OvalOutline",
    "Panel",
    "PanelSpec",
    "PlacedOpening",
    "Plan",
    "PlanInput",
    "Point",
    "PolygonOutline",
    "Post",
    "Roof",
    "RoundOutline",
    "SettingOut",
    "Sleeve",
    "WallSection",
    "find_faults",
    "reckon_plan",
]
