"""How fast is a season's weather made, beside NumPy drawing nothing but the random numbers of as many days?

CPU time of one thread, in turn. Ours makes rain, low and high of 700 days for 2000 seasons, one after another into the
same rows as a season does; the peer draws two normal and two uniform numbers a day and does nothing with them.
"""

import time
from collections.abc import Callable
from datetime import date

import numpy as np

from cordwright.base.kernel import kernel
from cordwright.project import read
from cordwright.site import WeatherModel, weather_calendar, weather_model
from cordwright.site._kernels import fill_piece, season_key
from growth import STUDIO
from timing import machine, show, show_ratio

SEASONS, DAYS, ROUNDS = 2000, 700, 7


@kernel
def _walk(seasons, first, lead, slot, month, tables, rain, low, high):  # type: ignore[no-untyped-def]  # noqa: PLR0917
    state = np.empty(4)
    total = 0.0
    for season in range(seasons):
        key = season_key(1, season)
        state[0] = -1.0
        for piece in range(first // 32, (first + rain.size - 1) // 32 + 1):
            fill_piece(piece, key, first, lead, slot, month, tables, state, rain, low, high)
        total += low[0]
    return total


def _ours(model: WeatherModel) -> Callable[[], object]:
    calendar = weather_calendar(date(2027, 1, 10), DAYS)
    rows = tuple(np.empty(DAYS) for _ in range(3))
    place = (calendar.first, calendar.lead, calendar.slot, calendar.month, model.tables())
    return lambda: _walk(SEASONS, *place, *rows)


def _peer() -> None:
    draw = np.random.default_rng(1)
    draw.standard_normal((SEASONS, DAYS, 2))
    draw.random((SEASONS, DAYS, 2))


def _by_turns(*works: Callable[[], object]) -> list[list[float]]:
    """CPU times of each piece of work [s], one of each in every round; a first round is thrown away."""
    times: list[list[float]] = [[] for _ in works]
    for turn in range(ROUNDS + 1):
        for kept, work in zip(times, works, strict=True):
            start = time.process_time()
            work()
            if turn:
                kept.append(time.process_time() - start)
    return times


def main() -> None:
    """Measure and tell."""
    machine()
    project = read(STUDIO).project
    assert project is not None
    model = weather_model(project.site)
    assert model is not None
    ours, peer = _by_turns(_ours(model), _peer)
    show(f"weather of {SEASONS} seasons of {DAYS} days", ours)
    show("the peer: raw random numbers of as many days", peer)
    show_ratio(ours, peer)
    print(f"{'one day':<52} min {min(ours) / SEASONS / DAYS * 1e9:9.1f} ns")


if __name__ == "__main__":
    main()
