"""How much room is left between the grains, how much does damp sand swell, and how much water does fineness ask for?"""

from dataclasses import dataclass
from typing import Final

from cordwright.base import Cite, InputError

BULKING_SOURCE: Final = Cite("army-en5466", "bulking of sand")
PACKING_SOURCE: Final = Cite("furnas-memory", "densest packing of two sizes")


def voids_from_densities(loose_density: float, grain_density: float) -> float:
    """Share of a loose measure that is not grain [1].

    Args:
        loose_density: dry sand over loose volume [kg/m3].
        grain_density: mass over the volume of the grains [kg/m3].

    Raises:
        InputError: loose sand heavier than its own grains.

    Sources: closed form (`absolute-volumes`).
    """
    if not 0 < loose_density <= grain_density:
        raise InputError(f"loose sand of {loose_density:g} kg/m3 cannot be made of grains of {grain_density:g} kg/m3")
    return 1 - loose_density / grain_density


def voids_from_water(poured: float, measure: float) -> float:
    """Share of a measure of dry sand that the water poured into it took up [1].

    Args:
        poured: water until it stands at the top [m3].
        measure: volume of the measure [m3].

    Raises:
        InputError: more water than the empty measure holds.

    Sources: closed form (`absolute-volumes`).
    """
    if not 0 <= poured < measure:
        raise InputError("a measure of sand takes less water than it holds when empty")
    return poured / measure


def damp_volume(dry_volume: float, swell: float) -> float:
    """Loose volume of damp sand [m3].

    Args:
        dry_volume: the same sand dry and loose [m3].
        swell: what damp adds, as a share of the dry volume [1].

    Sources: Army EN5466, bulking of sand (`army-en5466`).
    """
    return dry_volume * (1 + swell)


def swell_from_volumes(damp: float, inundated: float) -> float:
    """What damp added to a sand that fell back when it was flooded, as a share of its flooded volume [1].

    Args:
        damp: loose volume when damp [m3].
        inundated: volume when flooded and stirred [m3].

    Sources: Army EN5466, bulking of sand (`army-en5466`).
    """
    return (damp - inundated) / inundated


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Densest packing of fine grains in the holes of coarse ones: `solid` and the `fines` of it, both as shares [1]."""

    solid: float
    fines: float


def furnas(coarse_solid: float, fine_solid: float) -> Packing:
    """Limit of the packing of two sands of which one is much finer than the other.

    Args:
        coarse_solid: solid share of the coarse sand alone [1].
        fine_solid: solid share of the fine sand alone [1].

    Sources: Furnas's limit as remembered (`furnas-memory`): holds for sizes far apart; nearer sizes pack less well.
    """
    filled = (1 - coarse_solid) * fine_solid
    return Packing(solid=coarse_solid + filled, fines=filled / (coarse_solid + filled))


def fines_by_jar(sand: float, silt: float, clay: float) -> float:
    """Share of the settled height in a jar that is silt and clay [1].

    Args:
        sand: settled height [m].
        silt: settled height above the sand [m].
        clay: settled height above the silt [m].

    Sources: common practice (`jar-test-practice`): silt settles looser than sand, so the share by mass is smaller.
    """
    return (silt + clay) / (sand + silt + clay)
