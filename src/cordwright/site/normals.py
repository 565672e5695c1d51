"""How cold is a year at the site, and do the months as typed make sense?

A mean of a month says nothing about its worst night.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Final

from cordwright.base import Cite, Figure, Problem, Step
from cordwright.site.climate import DAYS, MONTHS, MonthlyNormals, Months
from cordwright.site.inputs import SiteInput
from cordwright.site.rain_days import WET_FROM, thin_months

HEATING_BASE: Final = 18.0
"""Outside temperature [degC] below which the day counts as one for heating."""
MEANS: Final = Cite("months-as-means")

LIMITS: Final = Cite("month-limits")
PHYSICAL: Final[Mapping[str, tuple[float, float, str, float]]] = {
    "temperature": (-65.0, 45.0, "degC", 1.0),
    "low": (-70.0, 40.0, "degC", 1.0),
    "high": (-60.0, 55.0, "degC", 1.0),
    "humidity": (0.05, 1.0, "%", 100.0),
    "rain": (0.0, 3.0, "mm", 1000.0),
    "rain_days": (0.0, 31.0, "days", 1.0),
    "frost_nights": (0.0, 31.0, "nights", 1.0),
    "wind": (0.0, 25.0, "m/s", 1.0),
}
"""Least and most of a monthly value on Earth, the unit a message speaks in, and that unit's count in one SI unit."""

COUNTS: Final = ("days", "nights")

HEMISPHERES_APART: Final = 2.0
"""Least difference of the two half-years [K] by which a hemisphere is told; nearer the equator there is none."""


def find_month_faults(site: SiteInput) -> tuple[Problem, ...]:
    """Name monthly values that no place has, that contradict each other, or that belong to the other hemisphere.

    Args:
        site: the place with its months, in SI.

    Sources: ranges are assumptions (`month-limits`).
    """
    if site.months is None:
        return ()
    found = (*_range_faults(site.months), *_order_faults(site.months))
    return found or (*_hemisphere_faults(site, site.months), *_rain_faults(site.months))


def _range_faults(months: MonthlyNormals) -> Iterator[Problem]:
    for name, (least, most, unit, scale) in PHYSICAL.items():
        values: Months = getattr(months, name) or ()
        for month, value in enumerate(values):
            if not least <= value <= (min(most, DAYS[month] + 1) if unit in COUNTS else most):
                yield Problem(
                    field=f"site.months.{name}",
                    message=f"{MONTHS[month]} has {value * scale:g} {unit}",
                    hint=f"between {least * scale:g} and {most * scale:g} {unit}: look for a slipped digit or unit",
                )


def _order_faults(months: MonthlyNormals) -> Iterator[Problem]:
    rows = [(name, values) for name in ("low", "temperature", "high") if (values := getattr(months, name)) is not None]
    for (lower, below), (upper, above) in pairwise(rows):
        wrong = [m for m in range(12) if below[m] > above[m]]
        if wrong:
            month = wrong[0]
            yield Problem(
                field=f"site.months.{upper}",
                message=f"in {MONTHS[month]} {lower} is {below[month]:g} degC and {upper} {above[month]:g} degC"
                + (f", and so in {len(wrong) - 1} more months" if len(wrong) > 1 else ""),
                hint="low lies under the mean of the day and high over it: see whether two rows are exchanged",
            )


def _rain_faults(months: MonthlyNormals) -> Iterator[Problem]:
    """Rain and rain days that contradict each other."""
    thin = thin_months(months)
    if thin and months.rain and months.rain_days:
        month = thin[0]
        depth = months.rain[month] / months.rain_days[month] * 1000
        least = (WET_FROM if months.wet_from is None else months.wet_from) * 1000
        yield Problem(
            field="site.months.rain_days",
            message=f"in {MONTHS[month]} a rain day has {depth:.1f} mm on the mean, less than the {least:g} mm that "
            "makes a day one" + (f"; so in {len(thin) - 1} more months" if len(thin) > 1 else ""),
            hint='state from what depth the station counts a rain day, for example wet_from = "0.1 mm"',
            severity="warning",
        )
    for month, (rain, days) in enumerate(zip(months.rain or (), months.rain_days or (), strict=False)):
        if rain > 0 and days == 0:
            yield Problem(
                field="site.months.rain_days",
                message=f"{MONTHS[month]} has {rain * 1000:g} mm of rain and no rain day",
                hint="write the days with rain, as the station counts them",
                severity="warning",
            )


def _hemisphere_faults(site: SiteInput, months: MonthlyNormals) -> Iterator[Problem]:
    told = hemisphere_told(months.temperature, site.latitude)
    if told is None:
        return
    yield Problem(
        field="site.months.temperature",
        message=f"these months look {told[0]}: {told[1]}",
        hint="January comes first, whatever the season; south is a negative latitude",
    )


def hemisphere_told(months: Months, latitude: float | None) -> tuple[str, str] | None:
    """Whether months belong to the other hemisphere: which one they look like, and why; None when nothing speaks so.

    Args:
        months: mean temperature of each month [degC].
        latitude: of the site, north positive; None is unknown [deg].
    """
    northern = (sum(months[3:9]) - sum(months[:3]) - sum(months[9:])) / 6
    if latitude is None or abs(northern) < HEMISPHERES_APART or northern * latitude > 0:
        return None
    look, half = ("northern", "April to September") if northern > 0 else ("southern", "October to March")
    return look, f"{half} is {abs(northern):.1f} K the warmer half-year, and the latitude is {latitude:g} deg"


def normal_figures(site: SiteInput) -> tuple[Figure, ...]:
    """Heating degree days and freezing index of a usual year by the means of its months; none without months."""
    if site.months is None:
        return ()
    return (_degree_days(site.months), _freezing_index(site.months))


def _month_steps(months: Months, below: float) -> tuple[Step, ...]:
    return tuple(
        Step(
            symbol=MONTHS[m], value=DAYS[m] * (below - t), unit="K.d", formula=f"{DAYS[m]:g} days x ({below:g} - {t:g})"
        )
        for m, t in enumerate(months)
        if t < below
    ) or (Step(symbol="no month", value=0.0, unit="K.d", formula=f"every mean is over {below:g} degC"),)


def cold_sum(months: Months, below: float) -> float:
    """Degrees under a temperature times days, over the year, each month at its mean [K.d].

    Args:
        months: mean temperature of each month [degC], shape (12,).
        below: the temperature counted from [degC].

    Sources: closed form; never more than the sum over single days (`months-as-means`).
    """
    return sum(days * max(0.0, below - t) for days, t in zip(DAYS, months, strict=True))


def _degree_days(months: MonthlyNormals) -> Figure:
    return Figure(
        key="site.heating_degree_days_18",
        label="heating degree days under 18 °C by the means of the months, to which single cold days add",
        value=cold_sum(months.temperature, HEATING_BASE),
        unit="K.d",
        bound="at_least",
        sources=(Cite("owner", "site.months.temperature"), MEANS),
        steps=_month_steps(months.temperature, HEATING_BASE),
    )


def _freezing_index(months: MonthlyNormals) -> Figure:
    return Figure(
        key="site.freezing_index",
        label="freezing index of a usual winter by the means of the months: a low bound, and no design winter",
        value=cold_sum(months.temperature, 0.0),
        unit="K.d",
        bound="at_least",
        sources=(Cite("owner", "site.months.temperature"), MEANS),
        steps=_month_steps(months.temperature, 0.0),
    )
