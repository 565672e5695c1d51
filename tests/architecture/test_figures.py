"""Does every figure and check of the three examples carry a key of its own, a unit it may carry, and its sources?"""

from functools import cache
from pathlib import Path

import pytest

from cordwright.base import source_keys
from cordwright.base.units import currency_of, is_figure_unit
from cordwright.project import read
from cordwright.reckon import Reckoning, reckon

EXAMPLES = ("weaving-studio", "bakehouse", "sauna")
ROOT = Path(__file__).resolve().parents[2]


@cache
def _reckoned(name: str) -> Reckoning:
    project = read(ROOT / "examples" / name).project
    assert project is not None
    return reckon(project)


@pytest.mark.parametrize("name", EXAMPLES)
def test_keys_are_unique(name: str) -> None:
    figures, checks = _reckoned(name).figures, _reckoned(name).checks
    keys = [f.key for f in figures]
    assert sorted({k for k in keys if keys.count(k) > 1}) == []
    marks = [c.key for c in checks]
    assert sorted({k for k in marks if marks.count(k) > 1}) == []
    assert len(keys) > 20


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_number_carries_a_unit_it_may_carry_and_names_its_source(name: str) -> None:
    for number in (*_reckoned(name).figures, *_reckoned(name).checks):
        assert is_figure_unit(number.unit), number.key
        assert number.label, number.key
        assert number.sources, f"{number.key} names no source"
        assert {c.key for c in number.sources} <= source_keys(), number.key


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_known_figure_shows_its_working(name: str) -> None:
    silent = [
        f.key
        for f in _reckoned(name).figures
        if f.value is not None and not f.steps and not f.key.startswith("site.rule.")
    ]
    assert silent == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_step_cites_what_exists(name: str) -> None:
    cited = {s.source.key for n in (*_reckoned(name).figures, *_reckoned(name).checks) for s in n.steps if s.source}
    assert cited <= source_keys()
    assert cited


def test_a_key_means_the_same_in_every_building() -> None:
    meanings: dict[str, set[tuple[str, bool]]] = {}
    for name in EXAMPLES:
        for figure in _reckoned(name).figures:
            money = currency_of(figure.unit)
            unit = figure.unit.replace(money, "money") if money else figure.unit
            meanings.setdefault(figure.key, set()).add((unit, bool(money)))
    assert {key: m for key, m in meanings.items() if len(m) > 1} == {}
