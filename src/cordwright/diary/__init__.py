"""What was really laid, mixed and measured, and what does it say of the rest? Forecasts by the owner's own days."""

from cordwright.diary.building import expected_of, wall_of
from cordwright.diary.helper_day import HelperDay, plan_helper_day
from cordwright.diary.inputs import Bag, Expected, Guess, WholeWall
from cordwright.diary.posterior import Observed, Posterior, believe
from cordwright.diary.reckoning import reckon_diary
from cordwright.diary.results import Diary, LayingDay, Reading, Series, Trend
from cordwright.diary.series import crack_trends, moisture_series
from cordwright.diary.year import Look, Measured, looks, measured

__all__ = [
    "Bag",
    "Diary",
    "Expected",
    "Guess",
    "HelperDay",
    "LayingDay",
    "Look",
    "Measured",
    "Observed",
    "Posterior",
    "Reading",
    "Series",
    "Trend",
    "WholeWall",
    "believe",
    "crack_trends",
    "expected_of",
    "looks",
    "measured",
    "moisture_series",
    "plan_helper_day",
    "reckon_diary",
    "wall_of",
]
