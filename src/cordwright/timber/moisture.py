"""To what moisture does wood settle in the air of this site, month by month?"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cordwright.base import Cite, Figure, OutOfRangeError, Step, table
from cordwright.site import MonthlyNormals

RELATION: Final = Cite("simpson-1998-emc", "Hailwood-Horrobin with constants by temperature")
TABLE: Final = Cite("wood-handbook-2010", "Table 4-2")
SPREAD: Final = Cite("fpl-gtr-229", "1 to 2 points")
EDGE: Final = Cite("emc-cold-months", "read at the table's edge")
MONTHS: Final = Cite("owner", "site.months")
NAMES: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
MONTH_WORDS: Final = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def equilibrium_moisture(temperature: float, humidity: float) -> float:
    """Moisture at which wood neither dries nor takes up water in such air [1 of oven-dry mass].

    Args:
        temperature: of the air [degC], -1.1 to 132.2.
        humidity: relative, as a fraction [1], 0.05 to 0.95.

    Raises:
        OutOfRangeError: air outside the range of the published table.

    Sources: Simpson 1998 = Wood Handbook 2010 Eq. 4-5; range of its Table 4-2. In reality 1 to 2 points off.
    """
    edge = table("seasoning")["equilibrium"]
    within = edge["coldest"] <= temperature <= edge["hottest"]
    if not (within and edge["driest_air"] <= humidity <= edge["dampest_air"]):
        raise OutOfRangeError(f"air of {temperature:g} degC and {humidity:.0%} lies outside the table of moistures")
    t = temperature
    weight = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * humidity
    multilayer, first = kh / (1 - kh), (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 18 / weight * (multilayer + first)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteMoisture:
    """Equilibrium moisture of each month, January first [1]; `damp` and `dry` are the months read at an edge."""

    months: tuple[float, ...]
    dampest: tuple[int, ...]
    colder: tuple[int, ...]

    @property
    def year(self) -> float:
        """Mean of the months [1]."""
        return sum(self.months) / len(self.months)


def site_moisture(normals: MonthlyNormals | None) -> SiteMoisture | None:
    """Give the equilibrium moisture of each month; None where the air of the site is not stated.

    Args:
        normals: the months as the station tells them.

    Sources: Simpson 1998; months beyond the table are read at its edge (`emc-cold-months`).
    """
    if normals is None or normals.humidity is None:
        return None
    edge = table("seasoning")["equilibrium"]
    air = tuple(zip(normals.temperature, normals.humidity, strict=True))
    return SiteMoisture(
        months=tuple(
            equilibrium_moisture(
                min(max(t, edge["coldest"]), edge["hottest"]), min(max(h, edge["driest_air"]), edge["dampest_air"])
            )
            for t, h in air
        ),
        dampest=tuple(i for i, (_, h) in enumerate(air) if h > edge["dampest_air"]),
        colder=tuple(i for i, (t, _) in enumerate(air) if t < edge["coldest"]),
    )


def moisture_figures(normals: MonthlyNormals | None) -> Iterator[Figure]:
    """Give the equilibrium moisture of each month and of the year; nothing where the air is not stated.

    Keys: `timber.equilibrium_moisture.jan` to `.dec`, and `.year` for their mean.

    Args:
        normals: the months as the station tells them.
    """
    site = site_moisture(normals)
    if site is None or normals is None or normals.humidity is None:
        return
    spread = float(table("seasoning")["equilibrium"]["spread"])
    for i, value in enumerate(site.months):
        yield Figure(
            key=f"timber.equilibrium_moisture.{NAMES[i]}",
            label=f"moisture to which wood settles outdoors in {MONTH_WORDS[i]}",
            value=value,
            low=value - spread,
            high=value + spread,
            unit="1",
            bound="at_least" if i in site.dampest else "exact",
            sources=(MONTHS, RELATION, TABLE, SPREAD, *((EDGE,) if i in (*site.colder, *site.dampest) else ())),
            steps=_steps(normals.temperature[i], normals.humidity[i], cold=i in site.colder),
        )
    yield Figure(
        key="timber.equilibrium_moisture.year",
        label="moisture to which wood settles outdoors, mean of the months",
        value=site.year,
        low=site.year - spread,
        high=site.year + spread,
        unit="1",
        sources=(MONTHS, RELATION, SPREAD),
        steps=(
            Step(symbol="driest month", value=min(site.months), unit="1", formula="least of the twelve"),
            Step(symbol="dampest month", value=max(site.months), unit="1", formula="largest of the twelve"),
        ),
    )


def _steps(temperature: float, humidity: float, *, cold: bool) -> tuple[Step, ...]:
    edge = "colder than the table: read in its coldest row" if cold else "mean of the month"
    return (
        Step(symbol="air temperature", value=temperature, unit="degC", formula=edge, source=EDGE if cold else MONTHS),
        Step(symbol="relative humidity", value=humidity, unit="1", formula="mean of the month", source=MONTHS),
        Step(
            symbol="sorption",
            value=None,
            unit="",
            formula="18 / W x (Kh/(1-Kh) + (K1 Kh + 2 K1 K2 K2h2)/(1 + K1 Kh + K1 K2 K2h2)); spread 1.5 points",
            source=RELATION,
        ),
    )
