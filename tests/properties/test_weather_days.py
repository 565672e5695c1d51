"""Generated days: two ways to make them, laws of the chain, and what must not depend on how one asks."""

import os
import subprocess
import sys
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base import InputError
from cordwright.site import fit_normals, weather_calendar
from cordwright.site._kernels import fill_piece, fill_seasons, season_key
from cordwright.site.wet_chain import dry_window, mean_spells, wet_day_variance
from weather_samples import ROOT, even_model, spells, studio_months

STUDIO = fit_normals(studio_months())
FIRST = date(2027, 1, 10)


def _by_kernel(seasons: int, days: int, seed: int = 5) -> tuple[np.ndarray, ...]:  # type: ignore[type-arg]
    calendar = weather_calendar(FIRST, days)
    rain, low, high = (np.empty((seasons, days)) for _ in range(3))
    with np.errstate(over="ignore"):
        fill_seasons(
            seed, np.arange(seasons), calendar.first, calendar.lead, calendar.slot, calendar.month, STUDIO.tables(),
            rain, low, high,
        )  # fmt: skip
    return rain, low, high


def test_the_kernel_and_the_arrays_make_the_same_days_to_the_bit() -> None:
    rain, low, high = _by_kernel(40, 700)
    made = STUDIO.days(5, range(40), FIRST, 700)
    assert (rain == made.rain).all()
    assert (low == made.low).all()
    assert (high == made.high).all()
    assert len(np.unique(low)) > 20_000


@settings(max_examples=25, deadline=None)
@given(start=st.integers(0, 600), days=st.integers(1, 90), season=st.integers(0, 39))
def test_weather_belongs_to_the_date_whenever_one_begins_to_look(start: int, days: int, season: int) -> None:
    whole = STUDIO.days(5, range(40), FIRST, 700)
    part = STUDIO.days(5, [season], FIRST + timedelta(days=start), days)
    end = min(start + days, 700)
    assert (part.low[0, : end - start] == whole.low[season, start:end]).all()
    assert (part.rain[0, : end - start] == whole.rain[season, start:end]).all()


@pytest.mark.parametrize("order", [(0, 1, 2, 3, 4, 5), (5, 3, 4, 0, 2, 1), (2, 2, 3, 1, 0, 5, 4)])
def test_pieces_do_not_depend_on_the_order_in_which_they_are_made(order: tuple[int, ...]) -> None:
    days = 6 * 32 - FIRST.toordinal() % 32
    calendar = weather_calendar(FIRST, days)
    rain, low, high = (np.full(days, np.nan) for _ in range(3))
    state = np.array([-1.0, 0.0, 0.0, 0.0])
    base = calendar.first // 32
    with np.errstate(over="ignore"):
        key = season_key(5, 7)
        for piece in order:
            fill_piece(
                base + piece, key, calendar.first, calendar.lead, calendar.slot, calendar.month, STUDIO.tables(), state,
                rain, low, high,
            )  # fmt: skip
    made = STUDIO.days(5, [7], FIRST, days)
    assert (low == made.low[0]).all()
    assert (rain == made.rain[0]).all()


def test_the_kernel_runs_without_a_compiler_too() -> None:
    script = (
        "import numpy as np; from datetime import date; from cordwright.site import weather_calendar, fit_normals;"
        "from weather_samples import studio_months; from cordwright.site._kernels import fill_seasons;"
        "c = weather_calendar(date(2027, 1, 10), 40); a = [np.empty((1, 40)) for _ in range(3)];\n"
        "with np.errstate(over='ignore'): fill_seasons(5, np.array([3]), c.first, c.lead, c.slot, c.month,"
        " fit_normals(studio_months()).tables(), *a)\n"
        "print(a[1][0, 39].hex())"
    )
    paths = os.pathsep.join([str(ROOT / "src"), str(ROOT / "tests")])
    environment = {**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": paths}
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", script],
        env=environment, capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    assert float.fromhex(done.stdout.strip()) == STUDIO.days(5, [3], FIRST, 40).low[0, 39]


def test_seeds_and_seasons_differ() -> None:
    a, b = STUDIO.days(1, [0, 1], FIRST, 60).low
    assert abs(np.corrcoef(a, b)[0, 1]) < 0.9
    assert (a != b).all()
    assert (STUDIO.days(2, [0], FIRST, 60).low[0] != a).all()


@pytest.mark.parametrize("persistence", [0.0, 0.28, 0.5])
def test_wet_days_obey_the_chains_closed_forms(persistence: float) -> None:
    share, n = 5.1667 / 31, 4000
    made = even_model(share, persistence).days(11, range(n), date(2027, 5, 1), 31)
    wet = made.rain > 0
    count = wet.sum(axis=1)
    expected = wet_day_variance(share, persistence, 31)
    assert count.mean() == pytest.approx(31 * share, abs=4 * (expected / n) ** 0.5)
    assert count.var() == pytest.approx(expected, rel=0.1)  # four standard errors of a variance of 4000
    for window in (1, 3, 5):
        chance = dry_window(share, persistence, window)
        assert (~wet[:, :window]).all(axis=1).mean() == pytest.approx(chance, abs=4 * (chance / n) ** 0.5)


def test_spells_last_as_the_closed_form_says() -> None:
    made = even_model(0.3, 0.3).days(11, range(60), date(2027, 1, 1), 1500)
    for kind, expected in zip((False, True), mean_spells(0.3, 0.3), strict=True):
        lengths = [n for season in made.rain for n in spells(season > 0, kind=kind)[1:-1]]
        assert np.mean(lengths) == pytest.approx(expected, rel=0.02)


def test_thirty_dry_days_take_as_long_as_waiting_takes() -> None:
    """Wet days before the thirtieth dry one, each day for itself: negative binomial, mean 30 f / (1 - f)."""
    made = even_model(0.4, 0.0).days(11, range(2000), date(2027, 1, 1), 150)
    dry = np.cumsum(made.rain == 0, axis=1)
    waited = np.argmax(dry == 30, axis=1) + 1 - 30
    assert waited.mean() == pytest.approx(20, abs=4 * (33.3 / 2000) ** 0.5)
    assert waited.var() == pytest.approx(33.3, rel=0.13)


def test_wet_and_dry_months_widen_the_count_and_keep_its_mean() -> None:
    plain, swinging = (fit_normals(studio_months(), _assumed(wetness)) for wetness in (0.0, 0.35))
    counts = [(m.days(4, range(1500), date(2027, 7, 1), 31).rain > 0).sum(axis=1) for m in (plain, swinging)]
    assert counts[0].mean() == pytest.approx(10, abs=0.3)
    assert counts[1].mean() == pytest.approx(10, abs=0.4)
    assert counts[1].var() > 1.25 * counts[0].var()


def _assumed(wetness: float):  # type: ignore[no-untyped-def]
    from cordwright.site import Assumed

    return Assumed(wetness=wetness)


def test_departures_keep_their_spread_and_their_memory() -> None:
    made = even_model(0.3, 0.3, high=60.0, slow=0.2).days(11, range(400), date(2027, 1, 1), 400)
    assert made.swing[1].std() == pytest.approx(1.0, abs=0.02)
    apart = [float(np.mean(made.swing[1][:, :-k] * made.swing[1][:, k:])) for k in (1, 20)]
    assert apart[0] == pytest.approx(0.2 + 0.8 * 0.66, abs=0.03)
    assert 0.04 < apart[1] < 0.2  # within one month as much as 0.2, across two the less


def test_low_never_lies_over_high_and_the_day_keeps_its_mean() -> None:
    close = even_model(0.3, 0.3, high=6.0, low=5.0).days(11, range(400), date(2027, 1, 1), 400)
    assert (close.low <= close.high).all()
    assert ((close.low + close.high) / 2).mean() == pytest.approx(5.5, abs=0.1)


def test_a_leap_day_has_weather_of_its_own_and_shifts_nothing() -> None:
    made = STUDIO.days(5, range(20), date(2028, 2, 27), 4)
    assert np.isfinite(made.low).all()
    march = STUDIO.days(5, range(20), date(2028, 3, 1), 1)
    assert (made.low[:, 3] == march.low[:, 0]).all()


@pytest.mark.parametrize(("first", "days"), [(FIRST, 0), (FIRST, 5000), (date(1, 1, 1), 10)])
def test_a_horizon_that_no_calendar_has_is_refused(first: date, days: int) -> None:
    with pytest.raises(InputError):
        weather_calendar(first, days)


def test_numbers_below_zero_are_refused() -> None:
    with pytest.raises(InputError):
        STUDIO.days(-1, [0], FIRST, 3)
    with pytest.raises(InputError):
        STUDIO.days(1, [-1], FIRST, 3)
