"""Laid by when, with what chance, and what would one more pair of hands buy?

The seasons themselves are run by `season.season.reckon_season`: it is not imported here, so that a reader of the file
loads no compiled loop.
"""

from cordwright.season.crew import hours_of, pace_of
from cordwright.season.faults import find_faults
from cordwright.season.figures import hours_by_trade, unknown_figures
from cordwright.season.habits import weather_classes
from cordwright.season.inputs import STRATEGIES, WEEK, Helpers, OwnTask, RainRule, SeasonInput, Strategy
from cordwright.season.results import Fan, Lost, Milestone, Outcome, Season, Sway
from cordwright.season.seen import as_recorded, lift_shares, replanned
from cordwright.season.tasks import Task, pert_mean, tasks_of
from cordwright.season.work import LiftWork, Work, planned_lifts, work_of

__all__ = [
    "STRATEGIES",
    "WEEK",
    "Fan",
    "Helpers",
    "LiftWork",
    "Lost",
    "Milestone",
    "Outcome",
    "OwnTask",
    "RainRule",
    "Season",
    "SeasonInput",
    "Strategy",
    "Sway",
    "Task",
    "Work",
    "as_recorded",
    "find_faults",
    "hours_by_trade",
    "hours_of",
    "lift_shares",
    "pace_of",
    "pert_mean",
    "planned_lifts",
    "replanned",
    "tasks_of",
    "unknown_figures",
    "weather_classes",
    "work_of",
]
