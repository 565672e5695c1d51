"""What does one whole year of weather at the nearest station look like, hour by hour and day by day?"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, InputError
from cordwright.site.weather_calendar import leap_slot

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

COMMON_HOURS: Final = 8760
LEAP_HOURS: Final = 8784


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WeatherYear:
    """Hours of a year, 1 January first, (8760,) or (8784,); hour k runs from k to k + 1 o'clock of standard time.

    `temperature`, `dew_point` [degC]; `humidity` [1]; `direct_normal`, `diffuse_horizontal` [W/m2]; `wind_speed` [m/s];
    `wind_direction`, where it comes from, from north over east [deg]; `rain` fallen in the hour [m]. An hour that was
    not measured is NaN; a column that cannot be used is None (only `rain` may be). `utc_offset` of standard time [h].
    `source`: where the hours come from; `notes`: what the reader found in them.
    """

    station: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    temperature: Floats
    dew_point: Floats
    humidity: Floats
    direct_normal: Floats
    diffuse_horizontal: Floats
    wind_speed: Floats
    wind_direction: Floats
    rain: Floats | None = None
    source: Cite = field(default_factory=lambda: Cite("owner", "site.weather.file"))
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.hours not in (COMMON_HOURS, LEAP_HOURS):
            raise InputError(f"a year of weather has {COMMON_HOURS} or {LEAP_HOURS} hours, not {self.hours}")
        for name, values in self.columns().items():
            if values.shape != (self.hours,) or np.isinf(values).any():
                raise InputError(f"weather year: {name} is not {self.hours} numbers")
            values.setflags(write=False)

    @property
    def hours(self) -> int:
        """How many hours the year has."""
        return int(self.temperature.size)

    def columns(self) -> Mapping[str, Floats]:
        """The hourly columns there are, by name."""
        found = {f.name: getattr(self, f.name) for f in fields(self)}
        return {name: values for name, values in found.items() if isinstance(values, np.ndarray)}

    def missing(self) -> Mapping[str, int]:
        """How many hours of each column were not measured; columns without a gap are left out."""
        gaps = {name: int(np.isnan(values).sum()) for name, values in self.columns().items()}
        return {name: count for name, count in gaps.items() if count}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DailyRecord:
    """Days as measured, rising and each once; NaN is unknown, a column nobody measured is None.

    `ordinal`: the date's (1 = 1 January of the year 1). `low`, `high`, `mean` of the air [degC]; `rain` [m]; `wind`
    [m/s]. `typical`: months of different years put together, so that years cannot be told apart.
    """

    station: str = ""
    ordinal: Ints
    low: Floats
    high: Floats
    mean: Floats
    rain: Floats | None = None
    wind: Floats | None = None
    typical: bool = False
    source: Cite = field(default_factory=lambda: Cite("owner", "site.weather.file"))

    def __post_init__(self) -> None:
        columns = (self.ordinal, self.low, self.high, self.mean, self.rain, self.wind)
        for values in columns:
            if values is not None:
                if values.shape != self.ordinal.shape:
                    raise InputError("daily record: columns of different length")
                values.setflags(write=False)
        if self.ordinal.size and (np.diff(self.ordinal) <= 0).any():
            raise InputError("daily record: days are not rising")

    @property
    def slots(self) -> Ints:
        """Each day's place in a leap year, 0 to 365."""
        return np.array([leap_slot(date.fromordinal(int(n))) for n in self.ordinal], np.int64)

    @property
    def months(self) -> Ints:
        """Each day's month, 0 to 11."""
        return np.array([date.fromordinal(int(n)).month - 1 for n in self.ordinal], np.int64)


TYPICAL_YEAR: Final = {COMMON_HOURS: 2001, LEAP_HOURS: 2000}
"""The calendar that stands for a year put together of months: it tells month and day, no more."""


def days_of(year: WeatherYear) -> DailyRecord:
    """Sum the hours of a year up to days; a day with an hour missing is unknown in that column.

    Args:
        year: hours of a typical or a single year.

    Sources: closed form; mean of the day over its 24 hours.
    """

    def daily(values: Floats) -> Floats:
        return values.reshape(-1, 24)

    first = date(TYPICAL_YEAR[year.hours], 1, 1).toordinal()
    temperature = daily(year.temperature)
    return DailyRecord(
        station=year.station,
        ordinal=np.arange(first, first + year.hours // 24, dtype=np.int64),
        low=temperature.min(axis=1),
        high=temperature.max(axis=1),
        mean=temperature.mean(axis=1),
        rain=None if year.rain is None else daily(year.rain).sum(axis=1),
        wind=daily(year.wind_speed).mean(axis=1),
        typical=True,
        source=year.source,
    )
