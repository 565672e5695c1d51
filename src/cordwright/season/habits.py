"""Which habits stand in for what the owner has not stated: rates of work, what each kind of work minds?"""

from collections.abc import Mapping
from typing import Any

from cordwright.base import table


def habits() -> Mapping[str, Any]:
    """The table of the season: `defaults`, `tasks`, `weather`, `rain`, `frost`."""
    return table("season")


def weather_classes() -> tuple[str, ...]:
    """What a task may mind of the weather; "masonry" is one of three, by the strategy."""
    return ("masonry", *habits()["weather"])
