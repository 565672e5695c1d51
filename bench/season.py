"""How fast do ten thousand seasons of the weaving studio run, beside the same model in a general simulator of events?

Both in one run, one thread, CPU time: with the weather given to both, and with weather made on both sides. Growth from
ten to a hundred thousand seasons, and memory a season. The days of the first seasons are held against each other.
"""

import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "NUMBA_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import platform
from pathlib import Path
from random import Random
from time import process_time

import numpy as np
from season_peers import Season, model_of, one_of_weather, season_key, weather_lists

from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.season.plan import plan_of
from cordwright.season.simulate import AHEAD, HORIZON, kernel_arguments, setting_of
from cordwright.season.tasks import tasks_of
from cordwright.season.work import work_of
from cordwright.site import weather_model

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"
PEER_SEASONS = 200
ROUNDS = 3
REPEATS = 20
SEED = 1


def main() -> None:
    """Print the ratios."""
    from cordwright.season._kernels import CAUSES, run_given, run_seasons

    project = read(EXAMPLE).project
    assert project is not None
    done = reckon(project)
    work = work_of(project.site, project.plan, done.plan, project.timber, done.timber)
    weather = weather_model(project.site)
    assert weather is not None
    assert project.season.start is not None
    setting = setting_of(project.season, project.site, weather)
    plan = plan_of(tasks_of(work, project.season, "roof first"), project.season.start)
    arguments = kernel_arguments(plan, setting)
    tasks = len(plan.tasks)
    print(
        f"{tasks} tasks, {HORIZON} days; CPython {platform.python_version()}, {platform.system()}; CPU time, one thread"
    )

    def room(seasons: int) -> tuple[np.ndarray, np.ndarray]:
        return np.empty((seasons, tasks)), np.empty((seasons, CAUSES))

    def ours(seasons: int, given: tuple[np.ndarray, ...] | None) -> tuple[float, np.ndarray]:
        finish, hours = room(seasons)
        start = process_time()
        with np.errstate(over="ignore"):
            if given is None:
                run_seasons(SEED, 0, *arguments, finish, hours)
            else:
                run_given(SEED, *arguments, *given, finish, hours)
        return process_time() - start, finish

    made = weather.days(SEED, range(PEER_SEASONS), plan.first, HORIZON + AHEAD)
    given = (made.rain, made.low, made.high)
    _, finish = ours(PEER_SEASONS, given)
    needed = int(finish.max()) + AHEAD  # the days the peer must make too
    ours(10, None)
    model = model_of(arguments)
    lists = [tuple(day.tolist() for day in (made.rain[n], made.low[n], made.high[n])) for n in range(PEER_SEASONS)]
    tables = weather_lists(weather, arguments[6], needed)

    def peer() -> tuple[float, list[list[float]]]:
        start = process_time()
        finish = [Season(model, season_key(SEED, n), *lists[n]).run() for n in range(PEER_SEASONS)]
        return process_time() - start, finish

    def peer_weather() -> float:
        start, random = process_time(), Random(SEED)
        for _ in range(PEER_SEASONS):
            one_of_weather(random, *tables)
        return process_time() - start

    best: dict[str, float] = {}
    for _ in range(ROUNDS):
        fast = sum(ours(PEER_SEASONS, given)[0] for _ in range(REPEATS)) / REPEATS
        slow, peers = peer()
        times = {
            "season given": fast / PEER_SEASONS,
            "season with weather": ours(10_000, None)[0] / 10_000,
            "peer given": slow / PEER_SEASONS,
            "peer weather": peer_weather() / PEER_SEASONS,
        }
        best = {name: min(time, best.get(name, time)) for name, time in times.items()}
    apart = float(np.abs(np.array(peers) - finish[:PEER_SEASONS]).max())
    both = best["peer given"] + best["peer weather"]
    for name, time in best.items():
        print(f"  {name}: {time * 1e6:.1f} us a season")
    print(f"largest difference of any task's day in {PEER_SEASONS} seasons: {apart:.1e} d")
    print(f"weather given to both: {best['peer given'] / best['season given']:.0f} times (wanted 300)")
    print(f"weather made on both sides: {both / best['season with weather']:.0f} times (wanted 200)")
    ten, hundred = min(ours(10_000, None)[0] for _ in range(ROUNDS)), min(ours(100_000, None)[0] for _ in range(ROUNDS))
    print(f"10 000 seasons {ten:.3f} s, 100 000 {hundred:.3f} s: {hundred / ten:.2f} times (wanted at most 11)")
    print(f"results: {8 * (tasks + CAUSES)} bytes a season (wanted at most 1000)")


if __name__ == "__main__":
    main()
