"""What do the hours of an EPW or TMY3 file hold, and which of its columns can be used?

pvlib cuts the file into columns. It is loaded only when such a file is named; what it gave is kept in `.cache` under
the hash of the file, so that the next command need not load it again. Codes for "not measured" become unknown, never a
number; a rain column that cannot be right is left out and named.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from contextlib import suppress
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import NDArray

from cordwright import __version__
from cordwright.base import Cite
from cordwright.project.faults import FieldFault
from cordwright.project.saving import save_atomically
from cordwright.site.rain_screen import screen_rain
from cordwright.site.weather_year import COMMON_HOURS, LEAP_HOURS, WeatherYear

Kind = Literal["EPW", "TMY3"]
Floats = NDArray[np.float64]

KEPT_AS: Final = "1"
"""Raised when what is kept changes its meaning."""
CACHE: Final = ".cache"
EPW_HEADINGS: Final = 8
EPW_COLUMNS: Final = 35
TMY3_HEADINGS: Final = 2
TMY3_FIRST: Final = "date (mm/dd/yyyy),time (hh:mm)"
EPW: Final = Cite("epw-format", "missing values")
TMY3: Final = Cite("tmy3-manual", "-9900 is missing; Lprecip depth and quantity")

NAMES: Final = {
    "temperature": "temp_air",
    "dew_point": "temp_dew",
    "humidity": "relative_humidity",
    "direct_normal": "dni",
    "diffuse_horizontal": "dhi",
    "wind_speed": "wind_speed",
    "wind_direction": "wind_direction",
}
RANGES: Final[Mapping[str, tuple[float, float]]] = {
    "temperature": (-70.0, 60.0),
    "dew_point": (-80.0, 45.0),
    "humidity": (0.0, 110.0),
    "direct_normal": (0.0, 1500.0),
    "diffuse_horizontal": (0.0, 1200.0),
    "wind_speed": (0.0, 75.0),
    "wind_direction": (0.0, 360.0),
}
"""Outside these a value is a code for "not measured" or a fault of the file (assumption `month-limits`)."""


def kind_of(text: str) -> Kind | None:
    """Tell an hourly file by its first lines; None for a list of days."""
    head = text[:4000].splitlines()[:2]
    if head and head[0].upper().startswith("LOCATION,"):
        return "EPW"
    return "TMY3" if len(head) > 1 and head[1].lower().startswith(TMY3_FIRST) else None


def note_form(text: str, kind: Kind) -> Iterator[tuple[int, FieldFault]]:
    """Look over an hourly file without any library: lines that hold no hour, and the count of the hours."""
    headings = EPW_HEADINGS if kind == "EPW" else TMY3_HEADINGS
    lines = text.splitlines()
    wanted = EPW_COLUMNS if kind == "EPW" else lines[1].count(",") + 1
    rows = [(n, line) for n, line in enumerate(lines[headings:], start=headings + 1) if line.strip()]
    for number, line in rows:
        if line.count(",") + 1 < wanted:
            message = f"this hour has {line.count(',') + 1} columns, an {kind} file {wanted}"
            yield number, FieldFault(message, "fetch the file again; an editor may have cut it")
            return
    if len(rows) not in (COMMON_HOURS, LEAP_HOURS):
        message = f"the file has {len(rows)} hours, a year {COMMON_HOURS}"
        yield headings, FieldFault(message, "name a file of one whole year")


def read_hours(content: bytes, text: str, kind: Kind, folder: Path) -> WeatherYear:
    """Read an hourly file whose form has been looked over.

    Args:
        content: all of its bytes.
        text: the same as text.
        kind: what `kind_of` said.
        folder: of the project, whose `.cache` keeps what was read.

    Raises:
        FieldFault: the library cannot make columns of it.
    """
    name = hashlib.sha256(b"|".join((KEPT_AS.encode(), __version__.encode(), content))).hexdigest()
    kept = folder / CACHE / f"weather-{name}.npz"
    found = _kept(kept)
    if found is None:
        found = _parse_epw(text) if kind == "EPW" else _parse_tmy3(text)
        _keep(kept, *found)
    return _year(*found, kind)


Parsed = tuple[dict[str, Any], dict[str, Floats]]


def _parse_epw(text: str) -> Parsed:
    from pvlib.iotools import read_epw

    frame, place = _by_library(read_epw, text)
    columns = {name: _numbers(frame[column]) for name, column in NAMES.items()}
    columns["rain"] = _numbers(frame["liquid_precipitation_depth"])
    columns["rain_hours"] = _numbers(frame["liquid_precipitation_quantity"])
    columns["years"] = _numbers(frame["year"])
    facts = {
        "station": str(place["city"]),
        "latitude": float(place["latitude"]),
        "longitude": float(place["longitude"]),
        "elevation": float(place["altitude"]),
        "utc_offset": float(place["TZ"]),
    }
    return facts, columns


def _parse_tmy3(text: str) -> Parsed:
    from pvlib.iotools import read_tmy3

    frame, place = _by_library(read_tmy3, text)
    columns = {name: _numbers(frame[column]) for name, column in NAMES.items()}
    columns["rain"] = _numbers(frame["Lprecip depth (mm)"])
    columns["rain_hours"] = _numbers(frame["Lprecip quantity (hr)"])
    columns["years"] = np.array([stamp.year for stamp in frame.index], np.float64)
    facts = {
        "station": str(place["Name"]).strip('"'),
        "latitude": float(place["latitude"]),
        "longitude": float(place["longitude"]),
        "elevation": float(place["altitude"]),
        "utc_offset": float(place["TZ"]),
    }
    return facts, columns


def _by_library(reader: Any, text: str) -> Any:
    """Let the library read; whatever it trips over is a fault of the file."""
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            if reader.__name__ == "read_tmy3":
                return reader(StringIO(text), map_variables=True)
            return reader(StringIO(text))
        except (ValueError, KeyError, IndexError, TypeError, AttributeError) as fault:
            raise FieldFault(f"the file cannot be read ({fault})", "fetch it again from where you had it") from None


def _numbers(column: Any) -> Floats:
    return np.asarray(column, dtype=np.float64)


def _kept(path: Path) -> Parsed | None:
    """What an earlier reading of the same bytes gave; None when there is none or it is damaged."""
    try:
        with np.load(BytesIO(path.read_bytes()), allow_pickle=False) as held:
            facts = json.loads(str(held["facts"]))
            return facts, {name: held[name] for name in held.files if name != "facts"}
    except (OSError, ValueError, KeyError, EOFError):
        return None


def _keep(path: Path, facts: Mapping[str, Any], columns: Mapping[str, Floats]) -> None:
    """Keep it for the next command; a folder that cannot be written to costs only time."""
    held = BytesIO()
    np.savez_compressed(held, facts=np.array(json.dumps(facts)), **columns)  # type: ignore[arg-type]
    with suppress(OSError):
        path.parent.mkdir(exist_ok=True)
        save_atomically(path, held.getvalue())


def _year(facts: Mapping[str, Any], columns: Mapping[str, Floats], kind: Kind) -> WeatherYear:
    known: dict[str, Any] = {name: _measured(columns[name], *RANGES[name]) for name in NAMES}
    rain, remark = screen_rain(columns["rain"], columns["rain_hours"])
    years = sorted({int(y) for y in columns["years"]})
    told = (f"{kind}, months of the years {years[0]} to {years[-1]}", *((remark,) if remark else ()))
    return WeatherYear(
        **facts,
        **{**known, "humidity": known["humidity"] / 100.0},
        rain=rain,
        source=EPW if kind == "EPW" else TMY3,
        notes=told,
    )


def _measured(values: Floats, least: float, most: float) -> Floats:
    """Keep what can have been measured; the codes for missing lie far outside."""
    with np.errstate(invalid="ignore"):
        return np.where((values >= least) & (values <= most), values, np.nan)
