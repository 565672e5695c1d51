"""When is each task of one season finished, day by day, and what took the hours that were lost?

The crew works down the list of tasks in the order of the job: a task may go on when all it waits for is finished and
has stood for its nights, and when the day's weather leaves hours for it. Days on which nothing may begin are jumped
over. Weather and draws come from hashed bits of seed, season and day, so that a season is the same alone or among
thousands.

Days count from 0, a moment is a day and its share of the working hours. Numbers of a weather class, in this order:
exposure, least high [degC], frost (1 or 0), heat [degC], wind [m/s] (in `Crew` as chances), rain that soaks [m], hours
it takes, hours of covering, rain that takes the day whole [m]. Numbers of the rules: a [h], b, scatter, restart [h],
give up [h], begin of the day [h], whole days (1 or 0), night [degC], hard frost [degC], nights, error [K], growth of
the error [K].

`Tasks`: table of hours (-1 for the pace), trade, size [h or m2], weather class, earliest day, where its followers begin
in the list, nights it stands, that list of followers, how many it waits for. `Crew`: hours of each day's clock, hands,
crew hours summed before each day, the first working day from each day on (the horizon where there is none), chance that
a class's limit of wind holds (classes, days). `Room`, what a season is worked out in: open tasks in the order of the
job, what each still waits for, when it may begin, its hours left; of each class the hours lost today, what takes them,
the day that was looked up; the weather's own state. All is taken apart once a season and worked on in plain arrays,
because a loop that hands many arrays about is slow.

Interpreted, the hash overflows by intent: call under `numpy.errstate(over="ignore")`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel, lent_kernel, part
from cordwright.site._kernels import Tables, fill_piece, mixed, season_key
from cordwright.site.weather_calendar import PIECE

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Calendar = tuple[int, int, Ints, Ints]
Crew = tuple[Floats, Floats, Floats, Ints, Floats]
Tasks = tuple[Ints, Ints, Floats, Ints, Ints, Ints, Floats, Ints, Ints]
Room = tuple[Ints, Ints, Floats, Floats, Floats, Ints, Ints, Floats]

RAIN, COLD, HEAT, WIND, WAITING, WORKED, CAUGHT = 0, 1, 2, 3, 4, 5, 6
"""Columns of the hours: what took them first, those with nothing to do, those worked, and work that hard frost met."""
CAUSES = 7
AHEAD = 4
"""Days beyond the horizon that are made, for the nights after its last day."""
TINY = 1e-9

OF_HOURS = np.uint64(0xA0761D6478BD642F)
OF_SKY = np.uint64(0xE7037ED1A0B428DB)
GOLDEN = np.uint64(0x9E3779B97F4A7C15)
U11 = np.uint64(11)
UNIT = 2.0**-53


@part
def share_of(key: np.uint64, stream: np.uint64, number: int) -> float:
    """A number from 0 to 1 that belongs to one season, one stream and one count."""
    bits = mixed((key ^ stream) + np.uint64(number) * GOLDEN)
    return float(np.int64(bits >> U11)) * UNIT


@part
def draw_hours(key: np.uint64, tasks: Tasks, quantiles: Floats, normals: Floats, pace: Floats, left: Floats) -> None:
    """Give each task its hours in this season: one pace for all laying, one draw for all tasks of a trade."""
    table, trade, size = tasks[0], tasks[1], tasks[2]
    normal = normals[min(int(share_of(key, OF_HOURS, 0) * normals.size), normals.size - 1)]
    rate = math.exp(pace[0] + pace[1] * normal)
    for j in range(left.size):
        if table[j] < 0:
            left[j] = size[j] / rate
        else:
            share = share_of(key, OF_HOURS, 1 + trade[j])
            left[j] = size[j] * quantiles[table[j], int(share * quantiles.shape[1])]


@part
def wet_overlap(key: np.uint64, day: int, rain: float, hours: float, rules: Floats, normals: Floats) -> float:
    """Working hours of a day during which it rains [h]: two wet blocks at any hour of the day."""
    normal = normals[min(int(share_of(key, OF_SKY, 8 * day) * normals.size), normals.size - 1)]
    depth = 1000.0 * rain
    grown = math.sqrt(depth) if rules[1] == 0.5 else depth ** rules[1]
    wet = min(24.0, rules[0] * grown * math.exp(rules[2] * normal))
    first = wet * share_of(key, OF_SKY, 8 * day + 1)
    met = 0.0
    for block in range(2):
        length = first if block == 0 else wet - first
        start = (24.0 - length) * share_of(key, OF_SKY, 8 * day + 2 + block)
        met += max(0.0, min(start + length, rules[5] + hours) - max(start, rules[5]))
    return min(met, hours)


@part
def frost_ahead(key: np.uint64, first: int, day: int, low: Floats, rules: Floats, normals: Floats) -> bool:
    """Whether the forecast of the coming nights keeps the builder from laying; it errs more the farther it looks."""
    for night in range(1, int(rules[9]) + 1):
        error = rules[10] + (night - 1) * rules[11]
        if low[day + night] - error * normals[normals.size - 1] > max(rules[7], rules[8]):
            continue  # no error that is drawn could make it a frost
        draw = share_of(key, OF_SKY, 8 * (first + day) + 4 + min(night, 3))
        told = low[day + night] + error * normals[min(int(draw * normals.size), normals.size - 1)]
        if told < rules[8] or (night == 1 and told < rules[7]):
            return True
    return False


@part
def hard_frost_follows(day: int, low: Floats, rules: Floats) -> bool:
    """Whether a night of hard frost really comes soon after a day of laying."""
    coldest = low[day + 1]
    for night in range(2, int(rules[9]) + 1):
        coldest = min(coldest, low[day + night])
    return bool(coldest < rules[8])


@part
def rain_loss(
    classes: Floats, c: int, rules: Floats, rain: float, before: float, overlap: float, hours: float
) -> float:
    """Hours that rain takes from one kind of work on one day [h], covering included."""
    if rules[6] > 0.5:
        return hours if rain >= classes[c, 8] else 0.0
    loss = classes[c, 7]
    if before > classes[c, 5]:
        loss += classes[c, 6]
    if overlap > 0.0:
        loss += classes[c, 0] * (overlap + rules[3])
    return hours if hours - loss < rules[4] else loss


@part
def day_loss(
    c: int,
    key: np.uint64,
    first: int,
    day: int,
    hours: float,
    calm: float,
    weather: tuple[float, float, float],
    low: Floats,
    classes: Floats,
    rules: Floats,
    normals: Floats,
) -> tuple[float, int]:
    """Hours that the weather takes from one kind of work on one day [h], and what takes most of them.

    `weather`: rain of the day and of the day before [m], and its high [degC].
    """
    rain, before, high = weather
    if high < classes[c, 1] or (classes[c, 2] > 0.5 and frost_ahead(key, first, day, low, rules, normals)):
        return hours, COLD
    if calm < 1.0 and share_of(key, OF_SKY, 8 * (first + day) + 4) >= calm:
        return hours, WIND
    loss = 0.0
    if classes[c, 0] > 0.0:
        overlap = wet_overlap(key, first + day, rain, hours, rules, normals) if rain > 0.0 else 0.0
        loss = rain_loss(classes, c, rules, rain, before, overlap, hours)
    if high > classes[c, 3] and loss < hours / 2:
        return hours / 2, HEAT
    return loss, RAIN


@part
def begin(tasks: Tasks, room: Room, horizon: int, finish: Floats, hours: Floats) -> int:
    """Set a season to its first morning: nothing done, open what waits for nothing; gives how many are open."""
    active, waits, ready, _, _, _, fresh, state = room
    earliest, needed = tasks[4], tasks[8]
    state[0] = -1.0
    fresh[:] = -1
    hours[:] = 0.0
    count = 0
    for j in range(finish.size):
        finish[j], waits[j], ready[j] = horizon, needed[j], max(0, earliest[j])
        if waits[j] == 0:
            active[count] = j
            count += 1
    return count


@part
def finish_task(
    a: int,
    moment: float,
    worked: bool,
    count: int,
    active: Ints,
    waits: Ints,
    ready: Floats,
    follow_from: Ints,
    follows: Ints,
    nights: Floats,
) -> int:
    """Strike the open task at place `a`, open what waited for it alone, by the order of the job; how many are open."""
    j = active[a]
    count -= 1
    for k in range(a, count):
        active[k] = active[k + 1]
    # It stands whole nights: what ends today may be built upon tomorrow morning at the soonest. What only waits begins
    # with a morning.
    stood = moment + nights[j]
    if nights[j] > 0.0 and worked:
        stood = math.ceil(moment - TINY) + nights[j] - 1.0
    for f in range(follow_from[j], follow_from[j + 1]):
        n = follows[f]
        waits[n] -= 1
        ready[n] = max(ready[n], stood)
        if waits[n] == 0:
            k = count
            while k > 0 and active[k - 1] > n:
                active[k] = active[k - 1]
                k -= 1
            active[k] = n
            count += 1
    return count


@part
def soonest(day: int, count: int, active: Ints, ready: Floats, horizon: int) -> int:
    """The day on which the first open task may begin, this one if it may begin today."""
    first = float(horizon)
    for a in range(count):
        first = min(first, ready[active[a]])
        if first < day + 1:
            return day
    return min(horizon, int(first))


@part
def make_days(
    day: int,
    made: int,
    key: np.uint64,
    calendar: Calendar,
    tables: Tables,
    state: Floats,
    rain: Floats,
    low: Floats,
    high: Floats,
) -> int:
    """Make the weather from the day before one to the nights after it, where it is not made; gives the last piece."""
    first, lead, slot, month = calendar
    last = (first + day + AHEAD - 1) // PIECE
    for piece in range(max(made + 1, (first + max(0, day - 1)) // PIECE), last + 1):
        fill_piece(piece, key, first, lead, slot, month, tables, state, rain, low, high)
    return max(made, last)


@lent_kernel
def run_season(
    key: np.uint64, crew: Crew, tasks: Tasks, classes: Floats, rules: Floats, calendar: Calendar, tables: Tables,
    made: int, rain: Floats, low: Floats, high: Floats, room: Room, finish: Floats, hours: Floats,
) -> None:  # fmt: skip
    """Run one season to its last task, or to the end of the horizon; `made`: the last piece of weather that stands."""
    clock, hands, before, next_day, calm = crew
    kind, follow_from, nights, follows = tasks[3], tasks[5], tasks[6], tasks[7]
    active, waits, ready, left, lost, cause, fresh, state = room
    first, normals, horizon = calendar[0], tables[4], clock.size
    count, done, day = begin(tasks, room, horizon, finish, hours), 0, next_day[0]
    while done < finish.size and day < horizon:
        later = soonest(day, count, active, ready, horizon)
        if later > day:
            hours[WAITING] += before[later] - before[day]
            day = next_day[later]
            continue
        if (first + day + AHEAD - 1) // PIECE > made:
            made = make_days(day, made, key, calendar, tables, state, rain, low, high)
        whole = clock[day] * hands[day]
        used, exposed, mortar, now, blocked, a = 0.0, 0.0, 0.0, float(day), -1, 0
        while a < count and whole - used > TINY:
            j = active[a]
            c = kind[j]
            if ready[j] > now + TINY:
                a += 1
                continue
            if fresh[c] != day:
                fresh[c] = day
                weather = (rain[day], rain[max(0, day - 1)], high[day])
                lost[c], cause[c] = day_loss(
                    c, key, first, day, clock[day], calm[c, day], weather, low, classes, rules, normals
                )
            loss = lost[c] * hands[day]
            take = min(left[j], whole - used if loss <= 0.0 else min(whole - used, max(0.0, whole - loss - exposed)))
            left[j] -= take
            used += take
            exposed += take if loss > 0.0 else 0.0
            mortar += take * classes[c, 2]
            if left[j] > TINY:
                blocked = cause[c] if blocked < 0 and loss > 0.0 else blocked
                a += 1
                continue
            now = day + used / whole if take > 0.0 else now
            finish[j] = now if take > 0.0 else ready[j]  # what only waits needs no crew
            count = finish_task(a, finish[j], take > 0.0, count, active, waits, ready, follow_from, follows, nights)
            done += 1
        hours[WORKED] += used
        hours[CAUGHT] += mortar if mortar > 0.0 and hard_frost_follows(day, low, rules) else 0.0
        hours[WAITING if blocked < 0 else blocked] += whole - used
        day = next_day[day + 1]


@kernel
def run_seasons(
    seed: int,
    first_season: int,
    crew: Crew,
    tasks: Tasks,
    quantiles: Floats,
    pace: Floats,
    classes: Floats,
    rules: Floats,
    calendar: Calendar,
    tables: Tables,
    days: Floats,
    finish: Floats,
    hours: Floats,
) -> None:
    """Run some seasons one after the other: `finish` (seasons, tasks) [d] and `hours` (seasons, causes) are filled.

    `days` holds the weather of each, (seasons, 3, horizon + AHEAD): rain [m], low and high [degC]; or none, (0, 3, the
    same), and it is made.
    """
    count, most = finish.shape[1], classes.shape[0]
    given, sky = days.shape[0] > 0, np.zeros((3, days.shape[2]))
    room = (
        np.empty(count, np.int64),
        np.empty(count, np.int64),
        np.empty(count, np.float64),
        np.empty(count, np.float64),
        np.empty(most, np.float64),
        np.empty(most, np.int64),
        np.empty(most, np.int64),
        np.empty(4, np.float64),
    )
    made = calendar[0] + days.shape[2] if given else -1
    for s in range(finish.shape[0]):
        key = np.uint64(season_key(seed, first_season + s))
        draw_hours(key, tasks, quantiles, tables[4], pace, room[3])
        of = days[s] if given else sky
        run_season(
            key, crew, tasks, classes, rules, calendar, tables, made, of[0], of[1], of[2], room, finish[s], hours[s]
        )
