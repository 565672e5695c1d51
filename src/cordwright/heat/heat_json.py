"""How are the solved panels given to a program, as plain values?"""

from cordwright.heat.panel_heat import HeatStudy, PanelHeat
from cordwright.heat.surface_values import Spot, Surface


def panels_json(study: HeatStudy | None) -> list[dict[str, object]]:
    """Give the solved panels as plain values, SI; maps are left out.

    Args:
        study: the panels, None where none was solved.
    """
    return [] if study is None else [_panel(p) for p in study.panels]


def _panel(panel: PanelHeat) -> dict[str, object]:
    return {
        "name": panel.name,
        "grid": panel.pitch,
        "cells": panel.cells,
        "iterations": panel.iterations,
        "area": panel.area,
        "u_value": panel.u_value,
        "error": panel.error,
        "flow": panel.flow,
        "flow_timber": panel.flow_timber,
        "flow_bounds": [panel.low, panel.high],
        "imbalance": panel.imbalance,
        "surface": _surface(panel.surface),
        "surface_for_mould": _surface(panel.checked),
    }


def _surface(surface: Surface) -> dict[str, object]:
    return {"worst": [_spot(s) for s in surface.worst], "mean": dict(surface.mean)}


def _spot(spot: Spot) -> dict[str, object]:
    return {"on": spot.ground, "x": spot.x, "y": spot.y, "factor": spot.factor}
