"""The place: where it is, and the local rules that somebody told the owner."""

from cordwright.site.climate import MonthlyNormals, Months
from cordwright.site.inputs import LocalRule, SiteInput
from cordwright.site.rules import check_rules, find_faults, rule_figures

__all__ = ["LocalRule", "MonthlyNormals", "Months", "SiteInput", "check_rules", "find_faults", "rule_figures"]
