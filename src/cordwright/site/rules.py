"""Which local rules was the owner told, and how does the building stand beside them?

A rule is only ever what somebody told the owner, with that somebody's name and the date. Beside a figure it makes a
check for the talk with the authority; it settles nothing.
"""

from collections.abc import Collection, Mapping
from difflib import get_close_matches

from cordwright.base import Check, Figure, Problem
from cordwright.site.inputs import LocalRule, SiteInput


def find_faults(site: SiteInput, figure_keys: Collection[str]) -> tuple[Problem, ...]:
    """Name rules that bound a figure nobody computes, and rules that bound one without giving a quantity.

    Args:
        site: what the owner states of the place.
        figure_keys: keys of all figures the building has.
    """
    return tuple(p for i, rule in enumerate(site.rules) for p in _rule_faults(i, rule, figure_keys))


def _rule_faults(index: int, rule: LocalRule, figure_keys: Collection[str]) -> list[Problem]:
    faults: list[Problem] = []
    if rule.limits and rule.limits not in figure_keys:
        near = get_close_matches(rule.limits, figure_keys, n=1)
        meant = f"the nearest is {near[0]}" if near else "see docs/nomenclature.md for the figures there are"
        faults.append(
            Problem(field=f"rules[{index}].limits", message=f"there is no figure {rule.limits!r}", hint=meant)
        )
    if rule.limits and rule.number is None:
        faults.append(
            Problem(
                field=f"rules[{index}].value",
                message=f"{rule.value!r} is not a quantity that {rule.limits} can be held against",
                hint='give a number with its unit, for example "60 m2"',
            )
        )
    return faults


def rule_figures(site: SiteInput) -> tuple[Figure, ...]:
    """Give each local rule that is a quantity as a figure, with who said it and when as its source."""
    return tuple(
        Figure(
            key=f"site.rule.{rule.slug}",
            label=f"{rule.rule}, local rule as told",
            value=rule.number,
            unit=rule.unit,
            sources=(rule.cite,),
        )
        for rule in site.rules
        if rule.number is not None
    )


def check_rules(site: SiteInput, figures: Mapping[str, Figure]) -> tuple[Check, ...]:
    """Hold each rule that bounds a figure against that figure, with the figure's spread.

    Args:
        site: what the owner states of the place.
        figures: all figures of the building by key.
    """
    return tuple(
        _check(rule, figures[rule.limits]) for rule in site.rules if rule.limits in figures and rule.number is not None
    )


def _check(rule: LocalRule, figure: Figure) -> Check:
    value, low, high = (_number(v) for v in (figure.value, figure.low, figure.high))
    reason = ""
    if value is None:
        reason = "missing: " + ", ".join(figure.missing)
    elif figure.unit != rule.unit:
        reason = f"the rule is in {rule.unit or 'no unit'}, the figure in {figure.unit or 'no unit'}"
    at_most = rule.sense == "at most"
    return Check(
        key=f"rule.{rule.slug}",
        label=f"{rule.rule} ({rule.sense} {rule.value}, as told by {rule.said_by})",
        demand=value if at_most else rule.number,
        capacity=rule.number if at_most else (value if low is None else low),
        unit=rule.unit,
        low=low if at_most else None,
        high=high if at_most else None,
        sources=(rule.cite, *figure.sources),
        steps=figure.steps,
        not_judged=reason,
    )


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) else None
