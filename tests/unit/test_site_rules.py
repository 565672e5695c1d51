"""A local rule is what somebody said; beside a figure it makes a check."""

from datetime import date

import pytest

from cordwright.base import Figure
from cordwright.site import LocalRule, SiteInput, check_rules, find_faults, rule_figures

FLOOR = Figure(key="plan.inner_area", label="floor", value=27.76, unit="m2", low=27.0, high=28.0)


def rule(**changes):
    base = {
        "slug": "floor",
        "rule": "largest floor",
        "value": "30 m2",
        "said_by": "parish office",
        "said_on": date(2027, 6, 7),
        "number": 30.0,
        "unit": "m2",
        "limits": "plan.inner_area",
    }
    return LocalRule(**(base | changes))


def check_of(made, figure=FLOOR):
    (check,) = check_rules(SiteInput(rules=(made,)), {figure.key: figure})
    return check


@pytest.mark.parametrize(("limit", "verdict"), [(30.0, "holds"), (27.9, "close"), (20.0, "short")])
def test_at_most(limit, verdict):
    assert check_of(rule(number=limit)).verdict == verdict


@pytest.mark.parametrize(("limit", "verdict"), [(20.0, "holds"), (27.5, "short"), (30.0, "short")])
def test_at_least_counts_the_low_end_of_what_there_is(limit, verdict):
    assert check_of(rule(number=limit, sense="at least")).verdict == verdict


def test_rule_figures_name_who_said_it():
    (figure,) = rule_figures(SiteInput(rules=(rule(), rule(slug="quake", number=None, unit=""))))
    assert figure.key == "site.rule.floor"
    assert figure.sources[0].where == "largest floor: parish office, 2027-06-07"


def test_unit_mismatch_and_unknown_figures_are_not_judged():
    assert check_of(rule(unit="m")).verdict == "not judged"
    unknown = Figure(key="plan.inner_area", label="floor", value=None, unit="m2", bound="unknown", missing=("a plan",))
    made = check_of(rule(), unknown)
    assert made.verdict == "not judged"
    assert "a plan" in made.not_judged


def test_faults_name_the_nearest_figure():
    site = SiteInput(rules=(rule(limits="plan.inner_aera"), rule(number=None)))
    wrong_key, no_number = find_faults(site, {"plan.inner_area"})
    assert wrong_key.field == "rules[0].limits"
    assert "plan.inner_area" in wrong_key.hint
    assert no_number.field == "rules[1].value"
    assert find_faults(SiteInput(rules=(rule(), rule(limits="", number=None))), {"plan.inner_area"}) == ()


def test_no_near_figure_points_to_the_list():
    (fault,) = find_faults(SiteInput(rules=(rule(limits="zzz"),)), {"plan.inner_area"})
    assert "nomenclature" in fault.hint
