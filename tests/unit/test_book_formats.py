"""Do numbers read as a builder writes them, in metric and imperial and in the owner's language?"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cordwright.base import Check, Figure, InputError
from cordwright.book import show_check, show_figure, show_value
from cordwright.book.formats import NB, show_count, show_feet, show_figures, show_millimetres, show_share

FEET = 0.3048


def plain(text):
    return text.replace(NB, " ")


@pytest.mark.parametrize(
    ("value", "unit", "metric", "imperial"),
    [
        (0.35, "m", "350 mm", "1 ft 1 3/4 in"),
        (0.0013, "m", "1.3 mm", "1/16 in"),
        (0.0006, "m", "0.6 mm", "under 1/16 in"),
        (2.2606, "m", "2.26 m", "7 ft 5 in"),
        (0.99999, "m", "1.00 m", "3 ft 3 3/8 in"),
        (34.86, "m2", "34.86 m²", "375.2 ft²"),
        (3.114, "m3", "3.11 m³", "4.07 yd³"),
        (768.4, "kg", "768 kg", "1,694 lb"),
        (25.0, "kg", "25 kg", "55.1 lb"),
        (1600.0, "kg/m3", "1,600 kg/m³", "100 lb/ft³"),
        (0.97, "1", "97 %", "97 %"),
        (0.047, "1", "4.7 %", "4.7 %"),
        (804.0, "", "804", "804"),
        (27.0, "deg", "27.0°", "27.0°"),
        (669.0, "EUR", "669.00 EUR", "669.00 EUR"),
        (123456.4, "CLP", "123,456 CLP", "123,456 CLP"),
        (date(2028, 5, 13), "date", "13 May 2028", "13 May 2028"),
        (None, "m", "not known", "not known"),
    ],
)
def test_values_read_in_both_systems(value, unit, metric, imperial):
    assert plain(show_value(value, unit, "metric", "en_GB")) == metric
    assert plain(show_value(value, unit, "imperial", "en_GB")) == imperial


def test_the_decimal_sign_and_money_follow_the_locale():
    assert plain(show_value(10296.5, "EUR", "metric", "et")) == "10 296,50 EUR"
    assert plain(show_value(1234567.0, "CLP", "metric", "es_CL")) == "1.234.567 CLP"
    assert plain(show_value(3.114, "m3", "metric", "et")) == "3,11 m³"


@pytest.mark.parametrize(
    ("inches", "said"),
    [
        (0, "0 in"),
        (0.03, "0 in"),
        (0.5, "1/2 in"),
        (2.5, "2 1/2 in"),
        (11.99, "1 ft"),
        (12, "1 ft"),
        (82, "6 ft 10 in"),
        (-2.5, "-2 1/2 in"),
    ],
)
def test_feet_and_inches_to_the_nearest_sixteenth(inches, said):
    assert plain(show_feet(inches * 0.0254)) == said


@given(st.floats(min_value=0, max_value=100))
def test_what_the_tape_says_lies_within_half_a_sixteenth(length):
    words = plain(show_feet(length)).split()
    inches = 0.0
    while words:
        *numbers, unit = words[: 1 + next(n for n, w in enumerate(words) if w in ("ft", "in"))]
        amount = sum(float(n) if "/" not in n else int(n.split("/")[0]) / int(n.split("/")[1]) for n in numbers)
        inches += amount * (12 if unit == "ft" else 1)
        words = words[len(numbers) + 1 :]
    assert abs(inches * 0.0254 - length) <= 0.0254 / 32 + 1e-9


def test_drawings_carry_bare_millimetres_or_primes():
    assert show_millimetres(3.725, "en_GB") == "3725"
    assert plain(show_millimetres(2.2606, "en_US", "imperial")) == "7' 5\""


def test_a_figure_says_its_spread_its_bound_and_what_is_missing():
    def figure(value, **more):
        return Figure(**{"key": "k", "label": "K", "value": value, "unit": "m3", **more})

    assert plain(show_figure(figure(3.114, low=2.731, high=3.513), "metric", "en_GB")) == "3.11 m³ (2.73 to 3.51)"
    assert plain(show_figure(figure(3.114, bound="at_least"), "metric", "en_GB")) == "at least 3.11 m³"
    assert plain(show_figure(figure(3.114, bound="at_most"), "metric", "en_GB")) == "at most 3.11 m³"
    unknown = figure(None, bound="unknown", missing=("the bucket", "a price"))
    assert show_figure(unknown, "metric", "en_GB") == "not known: the bucket and a price are missing"
    day = figure(date(2028, 7, 12), unit="date", low=date(2028, 7, 1), high=date(2028, 8, 1))
    assert plain(show_figure(day, "metric", "en_GB")) == "12 July 2028 (1 July 2028 to 1 August 2028)"
    assert plain(show_figure(figure(0.97, unit="1", low=0.9, high=1.02), "metric", "en_GB")) == "97 % (90 % to 102 %)"


def test_a_check_says_word_demand_capacity_and_margin():
    def check(demand, capacity, **more):
        return Check(**{"key": "k", "label": "K", "demand": demand, "capacity": capacity, "unit": "m2", **more})

    assert (
        plain(show_check(check(20.9, 20.2), "metric", "en_GB")) == "short: 20.90 m² against 20.20 m², short by 0.70 m²"
    )
    assert (
        plain(show_check(check(19.9, 20.2), "metric", "en_GB")) == "holds: 19.90 m² against 20.20 m², 0.30 m² to spare"
    )
    assert plain(show_check(check(19.9, 20.2, high=21.0), "metric", "en_GB")).startswith("close: ")
    assert show_check(check(None, 1.0, not_judged="no layout"), "metric", "en_GB") == "not judged: no layout"
    assert "nothing to spare" in show_check(check(1.0, 1.0), "metric", "en_GB")


def test_a_unit_no_figure_carries_and_a_locale_nobody_has_are_refused():
    with pytest.raises(InputError, match="furlong"):
        show_value(1.0, "furlong", "metric", "en_GB")
    with pytest.raises(InputError, match="locale"):
        show_value(1.0, "m2", "metric", "xx_nowhere")


def test_small_numbers_keep_figures_that_count():
    assert show_figures(0.69123, "en_GB") == "0.6912"
    assert show_figures(0.00041234, "en_GB") == "0.0004123"
    assert show_figures(12.0, "en_GB") == "12"
    assert plain(show_value(0.0042, "m3", "metric", "en_GB")) == "0.0042 m³"
    assert show_count(2.5, "en_GB") == "2.5"
    assert show_count(10.0, "en_GB") == "10"
    assert plain(show_share(0.5, "en_GB")) == "50 %"
