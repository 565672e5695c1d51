"""How fast does wood in the open rot in this climate?

Wood rots where it is warm and often wet. The index adds up, month by month, how warm it is over 2 degC and on how many
days it rains; it speaks of wood above the ground and of the climate, not of one wall.
"""

from typing import Final, Literal

Hazard = Literal["low", "moderate", "high"]
LOW, HIGH = 35.0, 65.0
"""Between these the hazard is moderate."""
COLDEST: Final = 2.0
DRIEST: Final = 3.0


def decay_index(temperature: tuple[float, ...], rain_days: tuple[float, ...]) -> float:
    """Climate index of decay [1].

    Args:
        temperature: mean of each month [degC], shape (12,).
        rain_days: days with 0.25 mm or more in each month, shape (12,).

    Sources: Scheffer (`scheffer-index`); a month that is too cold or too dry counts nothing.
    """
    pairs = zip(temperature, rain_days, strict=True)
    return sum(max(0.0, t - COLDEST) * max(0.0, d - DRIEST) for t, d in pairs) / 16.7


def decay_hazard(index: float) -> Hazard:
    """The class of an index.

    Args:
        index: of `decay_index` [1].

    Sources: `scheffer-classes`.
    """
    return "low" if index < LOW else "moderate" if index <= HIGH else "high"
