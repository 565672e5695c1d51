"""Weather for tests: the studio's months, a site as even as can be, and records that stand in installed packages."""

import csv
import gzip
from datetime import date
from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np

from cordwright.site import DailyRecord, MonthlyNormals, WeatherModel
from cordwright.site.weather import AMOUNT_STEPS

ROOT = Path(__file__).resolve().parents[1]


def _row(text: str, scale: float = 1.0) -> tuple[float, ...]:
    return tuple(float(word) * scale for word in text.split())


def studio_months(**other: object) -> MonthlyNormals:
    """The months of the weaving studio's example."""
    stated: dict[str, object] = {
        "temperature": _row("-5.4 -5.7 -1.6 4.9 11.0 15.0 17.4 15.9 11.0 5.5 0.4 -3.3"),
        "low": _row("-8.6 -9.2 -5.6 0.0 5.1 9.5 12.1 10.9 6.9 2.6 -1.9 -6.1"),
        "high": _row("-2.6 -2.2 2.7 10.4 16.9 20.4 22.7 21.2 15.6 8.6 2.6 -0.9"),
        "rain": _row("44 34 35 37 54 82 76 84 61 69 57 49", 0.001),
        "rain_days": _row("11 9 8 8 9 11 10 11 11 12 12 12"),
    }
    return MonthlyNormals(**{**stated, **other})  # type: ignore[arg-type]


def even_model(
    share: float, persistence: float, *, wetness: float = 0.0, slow: float = 0.0, high: float = 15.0, low: float = 5.0
) -> WeatherModel:
    """A site where every day of the year is alike: 6 mm on a wet day, spreads of 4 K."""
    mean, spread = np.empty((366, 2, 2)), np.full((366, 2, 2), 4.0)
    mean[:, :, 0], mean[:, :, 1] = high, low
    wet = np.full(366, share)
    return WeatherModel(
        wet_share=wet,
        odds=wet / (1 - wet),
        persistence=persistence,
        amounts=np.full((12, AMOUNT_STEPS), 0.006),
        wet_from=0.001,
        mean=mean,
        spread=spread,
        memory=np.array([[0.567, 0.086], [0.253, 0.504]]),
        shocks=np.array([[0.781, 0.0], [0.328, 0.637]]),
        wetness=wetness,
        wetness_memory=0.2,
        slow=slow,
    )


@cache
def denver() -> bytes:
    """The typical year of Denver, as its file has it."""
    return gzip.decompress((ROOT / "tests" / "data" / "denver-725650-tmy3.epw.gz").read_bytes())


def pvlib_file(name: str) -> bytes:
    """A weather file that comes with pvlib."""
    return files("pvlib").joinpath("data", name).read_bytes()


def seattle_csv() -> Path:
    """Four years of days in Seattle, 2012 to 2015, as they come with vega_datasets."""
    return Path(str(files("vega_datasets").joinpath("_data", "seattle-weather.csv")))


@cache
def seattle() -> DailyRecord:
    """The same as a record, cut by the csv module alone."""
    with seattle_csv().open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    low, high, rain = (
        np.array([float(row[name]) for row in rows]) for name in ("temp_min", "temp_max", "precipitation")
    )
    return DailyRecord(
        ordinal=np.array([date(*map(int, row["date"].split("/"))).toordinal() for row in rows]),
        low=low,
        high=high,
        mean=(low + high) / 2,
        rain=rain / 1000,
    )


def spells(wet: np.ndarray, kind: bool) -> list[int]:  # type: ignore[type-arg]
    """Lengths of the wet or dry spells of one series, the cut ones at its ends too."""
    edges = np.flatnonzero(np.diff(np.concatenate([[not kind], wet, [not kind]]).astype(int)))
    return list((edges[1::2] - edges[::2]).tolist())
