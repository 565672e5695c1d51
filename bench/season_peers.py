"""The season written for a general simulator of events: tasks are processes, the builder is a process.

The same model to the last rule, so that its days can be held against the kernel's; its draws are hashed as the kernel's
are, in plain whole numbers. `seasons_of_weather` makes days in plain Python in the generator's form, for the run with
weather on both sides; those need not be the same days.
"""

import math
from bisect import insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any

import numpy as np
import simpy

MASK = (1 << 64) - 1
GOLDEN = 0x9E3779B97F4A7C15
OF_HOURS = 0xA0761D6478BD642F
OF_SKY = 0xE7037ED1A0B428DB
TINY = 1e-9
LAST = 1e-9
"""The builder looks round after all that happens at the same moment [d]."""


def scattered(bits: int) -> int:
    """Scatter 64 bits."""
    bits = ((bits ^ (bits >> 30)) * 0xBF58476D1CE4E5B9) & MASK
    bits = ((bits ^ (bits >> 27)) * 0x94D049BB133111EB) & MASK
    return bits ^ (bits >> 31)


def season_key(seed: int, season: int) -> int:
    """The key of one season."""
    return scattered((scattered((seed + GOLDEN) & MASK) + season * GOLDEN) & MASK)


def share_of(key: int, stream: int, number: int) -> float:
    """A number from 0 to 1."""
    return (scattered(((key ^ stream) + number * GOLDEN) & MASK) >> 11) * 2.0**-53


@dataclass(slots=True)
class Model:
    """The kernel's arguments as plain lists."""

    clock: list[float]
    hands: list[float]
    calm: list[list[float]]
    table: list[int]
    trade: list[int]
    size: list[float]
    kind: list[int]
    earliest: list[int]
    cure: list[float]
    before: list[list[int]]
    quantiles: list[list[float]]
    pace: tuple[float, float]
    classes: list[list[float]]
    rules: list[float]
    first: int
    normals: list[float]


def model_of(given: Any) -> Model:
    """Turn the kernel's arguments into plain lists."""
    table, trade, size, kind, earliest, follow_from, nights, follows, _ = (column.tolist() for column in given.tasks)
    clock, hands, _, _, calm = (column.tolist() for column in given.crew)
    before: list[list[int]] = [[] for _ in table]
    for j in range(len(table)):
        for n in follows[follow_from[j] : follow_from[j + 1]]:
            before[n].append(j)
    return Model(
        clock=clock,
        hands=hands,
        calm=calm,
        table=table,
        trade=trade,
        size=size,
        kind=kind,
        earliest=[max(0, e) for e in earliest],
        cure=nights,
        before=before,
        quantiles=given.quantiles.tolist(),
        pace=(float(given.pace[0]), float(given.pace[1])),
        classes=given.classes.tolist(),
        rules=given.rules.tolist(),
        first=given.calendar[0],
        normals=given.tables[4].tolist(),
    )


@dataclass(slots=True)
class Season:
    """One season in the simulator."""

    model: Model
    key: int
    rain: Sequence[float]
    low: Sequence[float]
    high: Sequence[float]
    left: list[float] = field(default_factory=list)
    finish: list[float] = field(default_factory=list)
    open: list[int] = field(default_factory=list)
    worked: list[bool] = field(default_factory=list)

    def run(self) -> list[float]:
        """The moment each task is finished."""
        m = self.model
        self.left = self._draws()
        self.worked = [left > TINY for left in self.left]
        self.finish = [float(len(m.clock))] * len(m.size)
        env = simpy.Environment()
        done = [env.event() for _ in m.size]
        for j in range(len(m.size)):
            env.process(self._task(env, j, done))
        builder = env.process(self._builder(env, done))
        env.run(until=builder)
        return self.finish

    def _draws(self) -> list[float]:
        m = self.model
        rate = math.exp(m.pace[0] + m.pace[1] * self._normal(share_of(self.key, OF_HOURS, 0)))
        drawn = []
        for j, row in enumerate(m.table):
            if row < 0:
                drawn.append(m.size[j] / rate)
            else:
                values = m.quantiles[row]
                drawn.append(m.size[j] * values[int(share_of(self.key, OF_HOURS, 1 + m.trade[j]) * len(values))])
        return drawn

    def _normal(self, share: float) -> float:
        normals = self.model.normals
        return normals[min(int(share * len(normals)), len(normals) - 1)]

    def _task(self, env: simpy.Environment, j: int, done: list[simpy.Event]) -> Iterator[simpy.Event]:
        m = self.model
        yield simpy.AllOf(env, [done[b] for b in m.before[j]])
        ready = float(m.earliest[j])
        for b in m.before[j]:
            end = self.finish[b]
            stood = end + m.cure[b]
            if m.cure[b] > 0 and self.worked[b]:
                stood = math.ceil(end - TINY) + m.cure[b] - 1.0
            ready = max(ready, stood)
        if ready > env.now:
            yield env.timeout(ready - env.now)
        if self.left[j] <= TINY:
            self.finish[j] = ready
            done[j].succeed()
            return
        insort(self.open, j)

    def _builder(self, env: simpy.Environment, done: list[simpy.Event]) -> Iterator[simpy.Event]:
        m = self.model
        remaining = sum(left > TINY for left in self.left)
        for day, clock in enumerate(m.clock):
            if not remaining:
                return
            if clock <= 0:
                continue
            yield env.timeout(max(0.0, day - env.now) + LAST)
            whole, used, exposed = clock * m.hands[day], 0.0, 0.0
            losses: dict[int, float] = {}
            at = -1
            while whole - used > TINY:
                j = next((n for n in self.open if n > at), None)
                if j is None:
                    break
                at = j
                loss = losses.get(m.kind[j])
                if loss is None:
                    loss = losses[m.kind[j]] = self._loss(m.kind[j], day)
                room = whole - used
                if loss > 0:
                    room = min(room, whole - loss * m.hands[day] - exposed)
                take = min(self.left[j], max(0.0, room))
                self.left[j] -= take
                used += take
                exposed += take if loss > 0 else 0.0
                if self.left[j] <= TINY:
                    yield env.timeout(max(0.0, day + used / whole - env.now))
                    self.finish[j] = day + used / whole
                    self.open.remove(j)
                    remaining -= 1
                    done[j].succeed()
                    yield env.timeout(LAST)

    def _loss(self, c: int, day: int) -> float:
        row, r, hours = self.model.classes[c], self.model.rules, self.model.clock[day]
        if self.high[day] < row[1] or (row[2] > 0.5 and self._frost(day)):
            return hours
        calm = self.model.calm[c][day]
        if calm < 1 and share_of(self.key, OF_SKY, 8 * (self.model.first + day) + 4) >= calm:
            return hours
        loss = self._rain(row, r, day, hours) if row[0] > 0 else 0.0
        return hours / 2 if self.high[day] > row[3] and loss < hours / 2 else loss

    def _rain(self, row: list[float], r: list[float], day: int, hours: float) -> float:
        if r[6] > 0.5:
            return hours if self.rain[day] >= row[8] else 0.0
        loss = row[7]
        if day > 0 and self.rain[day - 1] > row[5]:
            loss += row[6]
        met = self._met(day, hours) if self.rain[day] > 0 else 0.0
        if met > 0:
            loss += row[0] * (met + r[3])
        return hours if hours - loss < r[4] else loss

    def _met(self, day: int, hours: float) -> float:
        r, number = self.model.rules, 8 * (self.model.first + day)
        depth = 1000.0 * self.rain[day]
        normal = self._normal(share_of(self.key, OF_SKY, number))
        wet = min(24.0, r[0] * (math.sqrt(depth) if r[1] == 0.5 else depth ** r[1]) * math.exp(r[2] * normal))
        first = wet * share_of(self.key, OF_SKY, number + 1)
        met = 0.0
        for block, length in enumerate((first, wet - first)):
            start = (24.0 - length) * share_of(self.key, OF_SKY, number + 2 + block)
            met += max(0.0, min(start + length, r[5] + hours) - max(start, r[5]))
        return min(met, hours)

    def _frost(self, day: int) -> bool:
        r = self.model.rules
        for night in range(1, int(r[9]) + 1):
            draw = share_of(self.key, OF_SKY, 8 * (self.model.first + day) + 4 + min(night, 3))
            told = self.low[day + night] + (r[10] + (night - 1) * r[11]) * self._normal(draw)
            if told < r[8] or (night == 1 and told < r[7]):
                return True
        return False


def one_of_weather(
    random: Random, odds: Sequence[float], means: Sequence[tuple[Any, ...]], amounts: Sequence[Sequence[float]]
) -> tuple[list[float], list[float], list[float]]:
    """One season's days in plain Python: a chain of wet and dry, amounts from a table, two remembering departures.

    Args:
        random: a generator.
        odds: chance of a wet day, each day of the horizon.
        means: of each day, by dry or wet: mean and spread of high, mean and spread of low, and the month.
        amounts: by month.
    """
    rain, low, high = [], [], []
    wet, warm, cool = 0, 0.0, 0.0
    for chance, usual in zip(odds, means, strict=True):
        wet = int(random.random() < 0.7 * chance + 0.3 * wet)
        one, other = random.gauss(0.0, 1.0), random.gauss(0.0, 1.0)
        warm, cool = (
            0.567 * warm + 0.086 * cool + 0.781 * one,
            0.253 * warm + 0.504 * cool + 0.328 * one + 0.637 * other,
        )
        mean_high, spread_high, mean_low, spread_low = usual[wet]
        top, bottom = mean_high + spread_high * warm, mean_low + spread_low * cool
        high.append(max(top, bottom))
        low.append(min(top, bottom))
        rain.append(amounts[usual[2]][int(random.random() * 1024)] if wet else 0.0)
    return rain, low, high


def weather_lists(
    weather: Any, calendar: Any, days: int
) -> tuple[list[float], list[tuple[Any, ...]], list[list[float]]]:
    """The tables of a weather model, laid out day by day for `one_of_weather`."""
    first, lead, slot, month = calendar
    at = slot[first - lead : first - lead + days]
    months = month[first - lead : first - lead + days] % 12
    rows = np.stack([weather.mean[at], weather.spread[at]], axis=-1).reshape(days, 2, 4)
    means = [(tuple(rows[n, 0]), tuple(rows[n, 1]), int(months[n])) for n in range(days)]
    return weather.wet_share[at].tolist(), means, weather.amounts.tolist()
