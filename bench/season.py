"""How fast do ten thousand seasons of the weaving studio run, beside the same model in a general simulator of events?

Both in one run, one thread, CPU time: with the weather given to both, and with weather made on both sides. Growth from
ten to a hundred thousand seasons, and memory a season. The days of the first seasons are held against each other. Run
it with OMP_NUM_THREADS=1.
"""

from dataclasses import dataclass
from pathlib import Path
from random import Random
from time import process_time
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.season._kernels import CAUSES, run_seasons
from cordwright.season.plan import plan_of
from cordwright.season.simulate import AHEAD, HORIZON, kernel_input, setting_of
from cordwright.season.tasks import tasks_of
from cordwright.season.work import work_of
from cordwright.site import weather_model
from season_peers import Season, model_of, one_of_weather, season_key, weather_lists
from timing import machine

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"
PEER_SEASONS = 200
ROUNDS = 3
REPEATS = 20
SEED = 1
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Bench:
    """The studio's seasons, ready to run on both sides."""

    plan: Any
    weather: Any
    given: Any

    def ours(self, seasons: int, sky: Floats | None = None) -> tuple[float, Floats]:
        """CPU time and days of the kernel; the weather is made where none is given."""
        finish, hours = np.empty((seasons, len(self.plan.tasks))), np.empty((seasons, CAUSES))
        days = np.empty((0, 3, HORIZON + AHEAD)) if sky is None else sky
        start = process_time()
        with np.errstate(over="ignore"):
            run_seasons(SEED, 0, *self.given, days, finish, hours)
        return process_time() - start, finish

    def sky(self) -> Floats:
        """Weather for both (seasons, 3, days)."""
        made = self.weather.days(SEED, range(PEER_SEASONS), self.plan.first, HORIZON + AHEAD)
        return np.ascontiguousarray(np.stack([made.rain, made.low, made.high], axis=1))


def bench_of(folder: Path) -> Bench:
    """Read the studio and lay out its season, roof first."""
    project = read(folder).project
    assert project is not None
    assert project.season.start is not None
    done, weather = reckon(project), weather_model(project.site)
    assert weather is not None
    work = work_of(project.site, project.plan, done.plan, project.timber, done.timber)
    plan = plan_of(tasks_of(work, project.season, "roof first"), project.season.start)
    given = kernel_input(plan, setting_of(project.season, project.site, weather))
    return Bench(plan=plan, weather=weather, given=given)


def peer(bench: Bench, sky: Floats) -> tuple[float, Floats]:
    """CPU time and days of the simulator of events."""
    model, days = model_of(bench.given), sky.tolist()
    start = process_time()
    finish = [Season(model, season_key(SEED, n), *days[n]).run() for n in range(PEER_SEASONS)]
    return process_time() - start, np.array(finish)


def peer_weather(bench: Bench, days: int) -> float:
    """CPU time of making so many days in plain Python, for as many seasons."""
    tables = weather_lists(bench.weather, bench.given.calendar, days)
    start, random = process_time(), Random(SEED)
    for _ in range(PEER_SEASONS):
        one_of_weather(random, *tables)
    return process_time() - start


def main() -> None:
    """Print the ratios."""
    bench = bench_of(EXAMPLE)
    sky = bench.sky()
    bench.ours(10)
    needed = int(bench.ours(PEER_SEASONS, sky)[1].max()) + AHEAD  # the days the peer must make too
    times: dict[str, list[float]] = {"season": [], "both": [], "peer season": [], "peer weather": []}
    for _ in range(ROUNDS):
        times["season"].append(sum(bench.ours(PEER_SEASONS, sky)[0] for _ in range(REPEATS)) / REPEATS / PEER_SEASONS)
        times["both"].append(bench.ours(10_000)[0] / 10_000)
        slow, peers = peer(bench, sky)
        times["peer season"].append(slow / PEER_SEASONS)
        times["peer weather"].append(peer_weather(bench, needed) / PEER_SEASONS)
    best = {name: min(each) for name, each in times.items()}
    machine()
    print(f"{len(bench.plan.tasks)} tasks, {HORIZON} days; CPU time, one thread, least of {ROUNDS}")
    print("a season: " + ", ".join(f"{name} {1e6 * time:.1f} us" for name, time in best.items()))
    apart = np.abs(peers - bench.ours(PEER_SEASONS, sky)[1]).max()
    print(f"largest difference of any task's day in {PEER_SEASONS} seasons: {apart:.1e} d")
    print(f"weather given to both: {best['peer season'] / best['season']:.0f} times (wanted 300)")
    both = best["peer season"] + best["peer weather"]
    print(f"weather made on both sides: {both / best['both']:.0f} times (wanted 200)")
    growth = [min(bench.ours(n)[0] for _ in range(ROUNDS)) for n in (10_000, 100_000)]
    print(f"10 000 seasons {growth[0]:.3f} s, 100 000 {growth[1]:.3f} s: {growth[1] / growth[0]:.2f} times (wanted 11)")
    print(f"results: {8 * (len(bench.plan.tasks) + CAUSES)} bytes a season (wanted 1000)")


if __name__ == "__main__":
    main()
