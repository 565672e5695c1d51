"""How thick is a log end when it is laid, and what gap will it leave when it dries further?

Wood shrinks across the grain in proportion to the moisture it has lost below fibre saturation; above, it does not.

Sources: Wood Handbook 2010, shrinkage at a moisture content; fibre saturation 28 % is an assumption of the craft.
"""

from cordwright.base import table
from cordwright.timber.inputs import Species, TimberInput


def fibre_saturation(timber: TimberInput) -> float:
    """Moisture below which the wood shrinks [1]: the owner's, else the table's assumption."""
    stated = timber.fibre_saturation
    return float(table("stock")["fibre_saturation"]["moisture"]) if stated is None else stated


def shrinkage_at(total: float, moisture: float, saturation: float) -> float:
    """Share of its green size that wood has lost at a moisture content [1].

    Args:
        total: shrinkage from green to oven-dry, in one direction or of the volume [1].
        moisture: water over oven-dry mass [1].
        saturation: moisture below which wood shrinks [1].

    Sources: Wood Handbook 2010, S = S0 (saturation - moisture) / saturation.
    """
    return total * (1 - min(moisture, saturation) / saturation)


def green_ratio(wood: Species, timber: TimberInput) -> float | None:
    """Green diameter over the measured one [1]; None when the wood was measured dry and its shrinkage is unknown."""
    return _ratio(wood, _measured(timber), fibre_saturation(timber), fibre_saturation(timber))


def laying_ratio(wood: Species, timber: TimberInput) -> float | None:
    """Diameter at laying over the measured one [1]; None when the laying moisture or the shrinkage is unknown."""
    if timber.laying_moisture is None:
        return None
    return _ratio(wood, _measured(timber), timber.laying_moisture, fibre_saturation(timber))


def _measured(timber: TimberInput) -> float:
    """Moisture at which diameters were taken; wood of unstated moisture is green."""
    return fibre_saturation(timber) if timber.measured_moisture is None else timber.measured_moisture


def _ratio(wood: Species, before: float, after: float, saturation: float) -> float | None:
    if min(before, saturation) == min(after, saturation):
        return 1.0  # the same size, whatever the shrinkage
    if wood.shrinkage is None:
        return None
    left = [1 - shrinkage_at(wood.shrinkage, m, saturation) for m in (before, after)]
    return left[1] / left[0]


def shrinkage_gap(green_diameter: float, total: float, before: float, after: float, saturation: float) -> float:
    """Gap all round a log end that dries in its mortar ring from one moisture to another [m].

    Below zero it is no gap: the wood takes up water, swells and presses on the joint.

    Args:
        green_diameter: of the log end in fresh wood [m].
        total: shrinkage of the diameter from green to oven-dry [1].
        before: moisture when laid [1].
        after: moisture in service [1].
        saturation: moisture below which wood shrinks [1].

    Sources: Wood Handbook 2010, shrinkage at a moisture content; half of the diameter's loss on each side.
    """
    lost = shrinkage_at(total, after, saturation) - shrinkage_at(total, before, saturation)
    return green_diameter * lost / 2
