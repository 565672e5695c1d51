"""Scheffer's climate index (`scheffer-index`, `scheffer-classes`) on the daily weather of Seattle, 2012 to 2015.

Index of each year and of the mean months as worked out from the same public record, days of 0.25 mm and more; the
climate is moderate.
"""

import csv
from pathlib import Path

import pytest
import vega_datasets

from cordwright.heat.decay import decay_hazard, decay_index

RECORD = Path(vega_datasets.__file__).parent / "_data" / "seattle-weather.csv"
ROWS = list(csv.DictReader(RECORD.read_text(encoding="utf-8").splitlines()))
PRINTED = {2012: 54.2, 2013: 59.0, 2014: 58.6, 2015: 49.4}


def months(years: set[int]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    warmth: list[list[float]] = [[] for _ in range(12)]
    wet = [0] * 12
    for row in ROWS:
        year, month = (int(part) for part in row["date"].replace("/", "-").split("-")[:2])
        if year in years:
            warmth[month - 1].append((float(row["temp_max"]) + float(row["temp_min"])) / 2)
            wet[month - 1] += float(row["precipitation"]) >= 0.25
    return tuple(sum(w) / len(w) for w in warmth), tuple(n / len(years) for n in wet)


@pytest.mark.parametrize("year", PRINTED)
def test_index_of_a_year(year: int) -> None:
    assert decay_index(*months({year})) == pytest.approx(PRINTED[year], abs=0.05)


def test_index_of_the_climate() -> None:
    index = decay_index(*months(set(PRINTED)))
    assert index == pytest.approx(54.3, abs=0.05)
    assert decay_hazard(index) == "moderate"


@pytest.mark.parametrize(("index", "word"), [(34.9, "low"), (35.0, "moderate"), (65.0, "moderate"), (65.1, "high")])
def test_classes(index: float, word: str) -> None:
    assert decay_hazard(index) == word
