"""What is this owner's wall made of, as far as heat goes, and what is still to be stated?"""

import math
from collections.abc import Mapping

from cordwright.base import OutOfRangeError
from cordwright.heat.conductivity import (
    Conductivity,
    WallMaterials,
    empty_cavity,
    gravity_at,
    known_fills,
    mean_of,
    mortar_conductivity,
    row,
    stated,
    wood_conductivity,
)
from cordwright.heat.inputs import WallHeatInput
from cordwright.mortar import Mix
from cordwright.plan.inputs import WallSection
from cordwright.timber.inputs import SHARES, Species, TimberInput
from cordwright.timber.results import Stock
from cordwright.timber.species import wood_of

Grain = tuple[Conductivity, Conductivity]
"""Across and along the grain."""
EMPTY = "none"
"""The owner's word for a cavity with nothing in it."""


def wall_materials(
    heat: WallHeatInput, section: WallSection, timber: TimberInput, stock: Stock, mix: Mix | None
) -> tuple[WallMaterials | None, tuple[str, ...]]:
    """Give what the wall is made of, or what must be stated before that is known.

    Args:
        heat: what the owner states of it.
        section: the wall's section.
        timber: the wood as stated.
        stock: the log ends in hand.
        mix: the mix worked out, None when none is stated.

    Sources: see `conductivity`; woods weigh by the face of their log ends.
    """
    grain, missing = _grain(heat, timber, stock)
    fill, unknown = _fill(heat, section)
    missing = (*missing, *unknown)
    if grain is None or missing:
        return None, missing
    mortar = mortar_conductivity(mix)
    if heat.mortar is not None:
        mortar = stated("mortar", heat.mortar, "wall.heat.mortar", mortar.heat_capacity)
    return WallMaterials(across=grain[0], along=grain[1], mortar=mortar, fill=fill), ()


def grain_of(heat: WallHeatInput, timber: TimberInput, name: str) -> Grain | str:
    """Give what one wood leads across and along its grain, or what is missing to know it."""
    wood = wood_of(timber, name)
    known = _handbook(wood, timber.service_moisture)
    own = (heat.across_grain, heat.along_grain)
    if isinstance(known, str):
        if None in own:
            return known
        across, along = own
        assert across is not None
        assert along is not None
        return (
            stated("wood across the grain", across, "wall.heat.across_grain"),
            stated("wood along the grain", along, "wall.heat.along_grain"),
        )
    across_known, along_known = known
    capacity = across_known.heat_capacity
    if own[0] is not None:
        across_known = stated("wood across the grain", own[0], "wall.heat.across_grain", capacity)
    if own[1] is not None:
        along_known = stated("wood along the grain", own[1], "wall.heat.along_grain", capacity)
    return across_known, along_known


def _handbook(wood: Species, moisture: float | None) -> Grain | str:
    """What the handbook gives for a wood, or why it gives nothing."""
    if wood.basic_density is None:
        return f"the density of {wood.name} (species.basic_density) or [wall.heat] along_grain and across_grain"
    if moisture is None:
        return "the moisture of the wood in service (stock.service_moisture)"
    volumetric = _volumetric(wood)
    if volumetric is None:
        return f"how {wood.name} shrinks (species.shrinkage)"
    try:
        return wood_conductivity(gravity_at(wood.basic_density / 1000, volumetric, moisture), moisture)
    except OutOfRangeError as refusal:
        return f"[wall.heat] along_grain and across_grain: {refusal} ({wood.name})"


def _volumetric(wood: Species) -> float | None:
    """Shrinkage of the volume; where it is not known, that of the face, for along the grain wood hardly shrinks."""
    if wood.volumetric is not None:
        return wood.volumetric
    if wood.radial is not None and wood.tangential is not None:
        return 1 - (1 - wood.radial) * (1 - wood.tangential)
    return None if wood.shrinkage is None else 1 - (1 - wood.shrinkage) ** 2


def species_faces(stock: Stock) -> Mapping[str, float]:
    """Give the face of the log ends of each wood [m2]; a size that is not known counts as the mean one."""
    known = stock.known_diameters
    usual = float(known.mean()) if known.size else 0.15
    faces: dict[str, float] = {}
    shapes = stock.shape or ("round",) * len(stock.id)
    for name, diameter, shape in zip(stock.species, stock.diameter.tolist(), shapes, strict=True):
        size = usual if math.isnan(diameter) else diameter
        faces[name] = faces.get(name, 0.0) + math.pi / 4 * size**2 * SHARES[shape]
    return faces


def _grain(heat: WallHeatInput, timber: TimberInput, stock: Stock) -> tuple[Grain | None, tuple[str, ...]]:
    faces = species_faces(stock)
    if not faces:
        if heat.across_grain is None or heat.along_grain is None:
            return None, ("the wood of the log ends ([stock]) or [wall.heat] along_grain and across_grain",)
        faces = {"": 1.0}
    found = [(face, grain_of(heat, timber, name)) for name, face in faces.items()]
    missing = tuple(dict.fromkeys(g for _, g in found if isinstance(g, str)))
    if missing:
        return None, missing
    grains = [(face, g) for face, g in found if not isinstance(g, str)]
    return (mean_of((face, g[0]) for face, g in grains), mean_of((face, g[1]) for face, g in grains)), ()


def _fill(heat: WallHeatInput, section: WallSection) -> tuple[Conductivity | None, tuple[str, ...]]:
    if section.solid:
        return None, ()
    if heat.fill_conductivity is not None:
        table_row = row("fill", heat.fill).heat_capacity if heat.fill in known_fills() else 1.6e5
        return stated("fill", heat.fill_conductivity, "wall.heat.fill_conductivity", table_row), ()
    if heat.fill == EMPTY:
        return _empty(section)
    if heat.fill:
        return row("fill", heat.fill), ()
    return None, ("what fills the cavity ([wall.heat] fill or fill_conductivity)",)


def _empty(section: WallSection) -> tuple[Conductivity | None, tuple[str, ...]]:
    try:
        return empty_cavity(section.cavity), ()
    except OutOfRangeError as refusal:
        return None, (f"[wall.heat] fill_conductivity: {refusal}",)


def grains_of_logs(heat: WallHeatInput, timber: TimberInput, stock: Stock) -> dict[str, Grain]:
    """Give what each log end leads across and along its grain, by its id; woods too little known are left out.

    Args:
        heat: what the owner states of it.
        timber: the wood as stated.
        stock: the log ends in hand.
    """
    woods = {name: grain_of(heat, timber, name) for name in dict.fromkeys(stock.species)}
    known = {name: g for name, g in woods.items() if not isinstance(g, str)}
    return {log: known[name] for log, name in zip(stock.id, stock.species, strict=True) if name in known}
