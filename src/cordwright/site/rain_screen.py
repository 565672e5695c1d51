"""Can the rain column of a weather file be rain at all?

Hourly files carry it least carefully of all their columns: sums over one, three, six and twenty-four hours are mixed,
and units slip by ten.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite

Floats = NDArray[np.float64]

LIMITS: Final = Cite("rain-limits")
MOST_IN_AN_HOUR: Final = 0.15
"""No hour of a typical year has this much [m]: the deepest cloudbursts on record reached twice that."""
LEAST_IN_A_YEAR: Final = 0.001
MOST_IN_A_YEAR: Final = 6.0
MOST_GAPS: Final = 0.02
"""Share of hours that may be missing before a year's sum means nothing."""


def screen_rain(depth: Floats, interval: Floats) -> tuple[Floats | None, str]:
    """Give the rain of each hour, or None and the reason why the column cannot be used.

    Args:
        depth: as the file has it, meant to be millimetres; codes for missing are below 0 or 999 and above.
        interval: hours each depth was gathered over, as the file has it.

    Returns:
        rain [m] with NaN where an hour is missing, and "" or the reason.

    Sources: limits are assumptions (`rain-limits`).
    """
    known = (depth >= 0) & (depth < 999)
    hourly = known & (interval == 1)
    gaps = 1.0 - hourly.mean()
    if gaps > MOST_GAPS:
        other = int((known & (interval != 1)).sum())
        mixed = f", and {other} are sums over other spans than an hour" if other else ""
        return None, f"rain is missing in {int((~known).sum())} of {depth.size} hours{mixed}: the column is not used"
    rain = np.where(hourly, depth / 1000.0, np.nan)
    most, total = float(np.nanmax(rain)), float(np.nansum(rain))
    if most > MOST_IN_AN_HOUR or not LEAST_IN_A_YEAR <= total <= MOST_IN_A_YEAR:
        return None, (
            f"rain comes to {total * 1000:.0f} mm in the year and {most * 1000:.0f} mm in one hour, which no place "
            "has; the column may be in tenths or hundredths: it is not used"
        )
    return rain, ""


FEW_TENTHS: Final = 0.15
"""Share of days with any rain over which a year's sum under `DRY_YEAR` is suspicious."""
DRY_YEAR: Final = 0.12
LEAST_DAYS: Final = 300


def screen_daily_rain(rain: Floats) -> tuple[Floats | None, str]:
    """Give the rain of each day, or None and the reason why the column cannot be used.

    Args:
        rain: of each day, NaN where unknown [m].

    Returns:
        the same rain, or None; and "" or the reason.

    Sources: limits are assumptions (`rain-limits`).
    """
    known = rain[~np.isnan(rain)]
    if known.size < LEAST_DAYS:
        return rain, ""
    year, wet = float(known.mean()) * 365.25, float((known > 0).mean())
    if not LEAST_IN_A_YEAR <= year <= MOST_IN_A_YEAR:
        return None, f"rain comes to {year * 1000:.0f} mm a year, which no place has: the column is not used"
    if year < DRY_YEAR and wet > FEW_TENTHS:
        said = f"rain comes to {year * 1000:.0f} mm a year although it falls on {wet * 100:.0f} % of the days"
        return None, f"{said}; the column may be in inches or centimetres: it is not used"
    return rain, ""
