"""Small seasons for tests: weather that is always the same, plain tasks, and the whole model once more in NumPy.

The twin goes through the days for all seasons at once, written from the rules and not from the kernel's text.
"""

from collections.abc import Sequence
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cordwright.season.inputs import SeasonInput
from cordwright.season.plan import SeasonPlan, plan_of
from cordwright.season.simulate import Setting, setting_of
from cordwright.season.tasks import Task
from cordwright.site.inputs import SiteInput
from cordwright.site.weather import WeatherModel
from cordwright.site.weather_days import scattered, season_keys

Floats = NDArray[np.float64]
EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)
FIRST = date(2027, 3, 1)
GOLDEN = np.uint64(0x9E3779B97F4A7C15)
OF_HOURS = np.uint64(0xA0761D6478BD642F)
OF_SKY = np.uint64(0xE7037ED1A0B428DB)
TINY = 1e-9


def steady(wet: float = 0.0, persistence: float = 0.0, *, low: float = 12.0, high: float = 20.0) -> WeatherModel:
    """Weather with one chance of 10 mm of rain the year round, and temperatures that never move."""
    share = np.full(366, wet)
    mean = np.empty((366, 2, 2))
    mean[..., 0], mean[..., 1] = high, low
    return WeatherModel(
        wet_share=share,
        odds=share / (1 - share),
        persistence=persistence,
        amounts=np.full((12, 1024), 0.010),
        wet_from=0.001,
        mean=mean,
        spread=np.full((366, 2, 2), 1e-9),
        memory=np.zeros((2, 2)),
        shocks=np.eye(2),
        wetness=0.0,
        wetness_memory=0.0,
    )


def calendar(**stated: Any) -> SeasonInput:
    """Seven hours of every day, a pace of one square metre an hour known for certain."""
    return SeasonInput(**{"start": FIRST, "days": EVERY_DAY, "hours": 7.0, "pace": 1.0, "pace_spread": 0.0, **stated})


def setting(weather: WeatherModel, **stated: Any) -> Setting:
    """A place of which nothing is known but its weather."""
    return setting_of(calendar(**stated), SiteInput(), weather)


def task(key: str, hours: float, *after: str, weather: str = "indoors", **more: Any) -> Task:
    """One task with hours known for certain."""
    return Task(key=key, label=key, trade=key, weather=weather, hours=(hours, hours, hours), after=after, **more)


def plan(*tasks: Task) -> SeasonPlan:
    """Tasks in order from the first of March."""
    return plan_of(tasks, FIRST)


def twin(given: Any, seed: int, days: Floats) -> tuple[Floats, Floats]:
    """Finish of each task and hours by cause, as the kernel gives them.

    Args:
        given: what the kernel takes (`KernelInput`).
        seed: of the seasons.
        days: weather (seasons, 3, days).
    """
    return _Twin(given, seed, days).run()


class _Twin:
    def __init__(self, given: Any, seed: int, days: Floats) -> None:
        self.table, self.trade, self.size, self.kind, self.earliest, self.starts, self.nights, self.follows, needs = (
            given.tasks
        )
        self.clock, self.hands, self.before, _, self.calm = given.crew
        self.quantiles, self.pace, self.classes, self.rules = (
            given.quantiles,
            given.pace,
            given.classes,
            given.rules,
        )
        self.first, self.normals = given.calendar[0], given.tables[4]
        self.n, self.count, self.horizon = len(days), len(self.table), self.clock.size
        self.keys = season_keys(seed, np.arange(self.n, dtype=np.uint64))
        self.rain, self.low, self.high = days[:, 0], days[:, 1], days[:, 2]
        self.waits = np.tile(needs, (self.n, 1))
        self.ready = np.tile(np.maximum(0, self.earliest).astype(float), (self.n, 1))
        self.finish = np.full((self.n, self.count), float(self.horizon))
        self.done = np.zeros((self.n, self.count), bool)
        self.hours = np.zeros((self.n, 7))
        self.left = self._draws()

    def share(self, stream: np.uint64, number: int) -> Floats:
        with np.errstate(over="ignore"):
            bits = scattered((self.keys ^ stream) + np.uint64(number) * GOLDEN)
        return (bits >> np.uint64(11)).astype(np.float64) * 2.0**-53

    def normal(self, share: Floats) -> Floats:
        return np.asarray(self.normals[np.minimum((share * self.normals.size).astype(int), self.normals.size - 1)])

    def _draws(self) -> Floats:
        rate = np.exp(self.pace[0] + self.pace[1] * self.normal(self.share(OF_HOURS, 0)))
        left = np.empty((self.n, self.count))
        for j in range(self.count):
            if self.table[j] < 0:
                left[:, j] = self.size[j] / rate
            else:
                row = self.quantiles[self.table[j]]
                share = self.share(OF_HOURS, 1 + int(self.trade[j]))
                left[:, j] = self.size[j] * row[(share * row.size).astype(int)]
        return left

    def run(self) -> tuple[Floats, Floats]:
        for day in range(self.horizon):
            if self.clock[day] > 0:
                self._day(day)
        return self.finish, self.hours

    def _day(self, day: int) -> None:
        alive = ~self.done.all(axis=1)
        whole = self.clock[day] * self.hands[day]
        used, exposed, mortar = (np.zeros(self.n) for _ in range(3))
        now, blocked = np.full(self.n, float(day)), np.full(self.n, -1)
        losses: dict[int, tuple[Floats, Floats]] = {}
        for j in range(self.count):
            can = alive & ~self.done[:, j] & (self.waits[:, j] == 0) & (self.ready[:, j] <= now + TINY)
            can &= whole - used > TINY
            if not can.any():
                continue
            c = int(self.kind[j])
            if c not in losses:
                losses[c] = self._loss(c, day)
            lost, cause = losses[c][0] * self.hands[day], losses[c][1]
            room = np.where(lost > 0, np.minimum(whole - used, np.maximum(0, whole - lost - exposed)), whole - used)
            take = np.where(can, np.minimum(self.left[:, j], room), 0.0)
            self.left[:, j] -= take
            used += take
            exposed += np.where(lost > 0, take, 0.0)
            mortar += take * self.classes[c, 2]
            through = can & (self.left[:, j] <= TINY)
            blocked = np.where(can & ~through & (blocked < 0) & (lost > 0), cause, blocked)
            now = np.where(through & (take > 0), day + used / whole, now)
            self._finish(j, through, np.where(take > 0, now, self.ready[:, j]), take > 0)
        self._count(day, alive, whole, used, mortar, blocked)

    def _finish(self, j: int, through: NDArray[np.bool_], moment: Floats, worked: NDArray[np.bool_]) -> None:
        self.finish[through, j] = moment[through]
        self.done[:, j] |= through
        stood = moment + self.nights[j]
        if self.nights[j] > 0:
            stood = np.where(worked, np.ceil(moment - TINY) + self.nights[j] - 1, stood)
        for n in self.follows[self.starts[j] : self.starts[j + 1]]:
            self.waits[through, n] -= 1
            self.ready[through, n] = np.maximum(self.ready[through, n], stood[through])

    def _count(  # noqa: PLR0917 - what one day left
        self, day: int, alive: NDArray[np.bool_], whole: float, used: Floats, mortar: Floats, blocked: NDArray[np.int64]
    ) -> None:
        nights = int(self.rules[9])
        caught = (self.low[:, day + 1 : day + 1 + nights] < self.rules[8]).any(axis=1)
        self.hours[:, 5] += np.where(alive, used, 0)
        self.hours[:, 6] += np.where(alive & caught, mortar, 0)
        for cause in range(5):
            mine = alive & ((blocked == cause) if cause < 4 else (blocked < 0))
            self.hours[:, cause] += np.where(mine, whole - used, 0)

    def _loss(self, c: int, day: int) -> tuple[Floats, NDArray[np.int64]]:
        hours, row = self.clock[day], self.classes[c]
        cold = self.high[:, day] < row[1]
        if row[2] > 0.5:
            cold = cold | self._frost(day)
        blown = np.zeros(self.n, bool)
        if self.calm[c, day] < 1:
            blown = self.share(OF_SKY, 8 * (self.first + day) + 4) >= self.calm[c, day]
        rain = self._rain(row, day, hours) if row[0] > 0 else np.zeros(self.n)
        hot = (self.high[:, day] > row[3]) & (rain < hours / 2)
        lost = np.where(cold | blown, hours, np.where(hot, hours / 2, rain))
        return lost, np.where(cold, 1, np.where(blown, 3, np.where(hot, 2, 0)))

    def _frost(self, day: int) -> NDArray[np.bool_]:
        found = np.zeros(self.n, bool)
        for night in range(1, int(self.rules[9]) + 1):
            draw = self.share(OF_SKY, 8 * (self.first + day) + 4 + min(night, 3))
            error = self.rules[10] + (night - 1) * self.rules[11]
            told = self.low[:, day + night] + error * self.normal(draw)
            found |= (told < self.rules[8]) | ((night == 1) & (told < self.rules[7]))
        return found

    def _rain(self, row: Floats, day: int, hours: float) -> Floats:
        rain, rules = self.rain[:, day], self.rules
        if rules[6] > 0.5:
            return np.where(rain >= row[8], hours, 0.0)
        number = 8 * (self.first + day)
        wet = rules[0] * (1000 * rain) ** rules[1] * np.exp(rules[2] * self.normal(self.share(OF_SKY, number)))
        wet = np.minimum(24.0, wet)
        one = wet * self.share(OF_SKY, number + 1)
        met = np.zeros(self.n)
        for block, length in enumerate((one, wet - one)):
            start = (24.0 - length) * self.share(OF_SKY, number + 2 + block)
            met += np.maximum(0, np.minimum(start + length, rules[5] + hours) - np.maximum(start, rules[5]))
        met = np.where(rain > 0, np.minimum(met, hours), 0.0)
        before = self.rain[:, day - 1] if day else np.zeros(self.n)
        loss = row[7] + np.where(before > row[5], row[6], 0.0) + np.where(met > 0, row[0] * (met + rules[3]), 0.0)
        return np.where(hours - loss < rules[4], hours, loss)


def laying_tasks(areas: Sequence[float], weather: str) -> tuple[Task, ...]:
    """A chain of laid faces, each upon the last."""
    return tuple(
        Task(
            key=f"laying.A.{n}",
            label="laying",
            trade="laying",
            weather=weather,
            area=area,
            face=area,
            group="pace",
            after=(f"laying.A.{n - 1}",) if n else (),
            cure=1.0,
        )
        for n, area in enumerate(areas)
    )
