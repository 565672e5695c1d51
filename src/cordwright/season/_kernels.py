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

What belongs together stands in the rows of one array, for a loop that hands many arrays about is slow. Tasks: whole
numbers (6, tasks + 1), table of hours (-1 for the pace), trade, weather class, earliest day, where its followers begin in
the list of followers, how many it waits for; sizes (2, tasks), hours or face [h or m2] and nights it stands. Crew (3,
days + 1): hours of each day's clock, hands, crew hours summed before each day. Room of a season: whole numbers (5, most
of tasks and classes), open tasks in the order of the job, what each still waits for, of each class the day it was looked
up and what takes its hours, counts; numbers (4, the same), when each task may begin, its hours left, of each class the
hours lost today, and what came of today.

Interpreted, the hash overflows by intent: call under `numpy.errstate(over="ignore")`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel
from cordwright.site._kernels import Tables, fill_piece, mixed, season_key
from cordwright.site.weather_calendar import PIECE

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Calendar = tuple[int, int, Ints, Ints]

TABLE, TRADE, KIND, EARLIEST, FROM, NEEDS = 0, 1, 2, 3, 4, 5
"""Rows of the tasks' whole numbers."""
SIZE, NIGHTS = 0, 1
"""Rows of the tasks' sizes."""
CLOCK, HANDS, BEFORE = 0, 1, 2
"""Rows of the crew."""
ACTIVE, WAITS, FRESH, CAUSE, COUNTS = 0, 1, 2, 3, 4
"""Rows of the room's whole numbers."""
READY, LEFT, LOST, TODAY = 0, 1, 2, 3
"""Rows of the room's numbers."""
OPEN, DONE, MADE, BLOCKED = 0, 1, 2, 3
"""Counts of the room: tasks open, tasks done, the last piece of weather made, what blocked the first task today."""
USED, MORTAR = 0, 1
"""What came of today: hours worked, and those of them with mortar."""

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


@kernel
def share_of(key: np.uint64, stream: np.uint64, number: int) -> float:
    """A number from 0 to 1 that belongs to one season, one stream and one count."""
    bits = mixed((key ^ stream) + np.uint64(number) * GOLDEN)
    return float(np.int64(bits >> U11)) * UNIT


@kernel
def between(tables: Floats, row: int, share: float) -> float:
    """One row of a table of evenly spaced shares read at one, along straight lines."""
    steps = tables.shape[1] - 1
    place = share * steps
    at = min(int(place), steps - 1)
    return tables[row, at] + (place - at) * (tables[row, at + 1] - tables[row, at])


@kernel
def draw_hours(
    key: np.uint64, whole: Ints, sizes: Floats, quantiles: Floats, normals: Floats, pace: Floats, numbers: Floats
) -> None:
    """Give each task its hours in this season: one pace for all laying, one draw for all tasks of a trade."""
    normal = normals[min(int(share_of(key, OF_HOURS, 0) * normals.size), normals.size - 1)]
    rate = math.exp(pace[0] + pace[1] * normal)
    for j in range(sizes.shape[1]):
        if whole[TABLE, j] < 0:
            numbers[LEFT, j] = sizes[SIZE, j] / rate
        else:
            share = share_of(key, OF_HOURS, 1 + whole[TRADE, j])
            numbers[LEFT, j] = sizes[SIZE, j] * between(quantiles, whole[TABLE, j], share)


@kernel
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


@kernel
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


@kernel
def hard_frost_follows(day: int, low: Floats, rules: Floats) -> bool:
    """Whether a night of hard frost really comes soon after a day of laying."""
    coldest = low[day + 1]
    for night in range(2, int(rules[9]) + 1):
        coldest = min(coldest, low[day + night])
    return bool(coldest < rules[8])


@kernel
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


@kernel
def day_loss(
    c: int,
    key: np.uint64,
    first: int,
    day: int,
    hours: float,
    calm: float,
    classes: Floats,
    rules: Floats,
    rain: Floats,
    low: Floats,
    high: Floats,
    normals: Floats,
) -> tuple[float, int]:
    """Hours that the weather takes from one kind of work on one day [h], and what takes most of them."""
    if high[day] < classes[c, 1] or (classes[c, 2] > 0.5 and frost_ahead(key, first, day, low, rules, normals)):
        return hours, COLD
    if calm < 1.0 and share_of(key, OF_SKY, 8 * (first + day) + 4) >= calm:
        return hours, WIND
    loss = 0.0
    if classes[c, 0] > 0.0:
        overlap = wet_overlap(key, first + day, rain[day], hours, rules, normals) if rain[day] > 0.0 else 0.0
        loss = rain_loss(classes, c, rules, rain[day], rain[day - 1] if day > 0 else 0.0, overlap, hours)
    if high[day] > classes[c, 3] and loss < hours / 2:
        return hours / 2, HEAT
    return loss, RAIN


@kernel
def begin(whole: Ints, marks: Ints, numbers: Floats, horizon: int, finish: Floats, hours: Floats) -> None:
    """Set a season to its first morning: nothing done, open what waits for nothing."""
    marks[COUNTS, OPEN], marks[COUNTS, DONE], marks[COUNTS, MADE] = 0, 0, -1
    marks[FRESH, :] = -1
    hours[:] = 0.0
    for j in range(finish.size):
        finish[j] = horizon
        marks[WAITS, j] = whole[NEEDS, j]
        numbers[READY, j] = max(0, whole[EARLIEST, j])
        if whole[NEEDS, j] == 0:
            marks[ACTIVE, marks[COUNTS, OPEN]] = j
            marks[COUNTS, OPEN] += 1


@kernel
def finish_task(
    a: int, moment: float, whole: Ints, sizes: Floats, follows: Ints, marks: Ints, numbers: Floats, finish: Floats
) -> None:
    """Strike the open task at place `a`, and open what waited for it alone, in the order of the job."""
    j = marks[ACTIVE, a]
    finish[j] = moment
    marks[COUNTS, DONE] += 1
    count = marks[COUNTS, OPEN] - 1
    for k in range(a, count):
        marks[ACTIVE, k] = marks[ACTIVE, k + 1]
    # It stands whole nights: what ends today may be built upon tomorrow morning at the soonest.
    stood = moment if sizes[NIGHTS, j] <= 0.0 else math.ceil(moment - TINY) + sizes[NIGHTS, j] - 1.0
    for f in range(whole[FROM, j], whole[FROM, j + 1]):
        n = follows[f]
        marks[WAITS, n] -= 1
        numbers[READY, n] = max(numbers[READY, n], stood)
        if marks[WAITS, n] == 0:
            k = count
            while k > 0 and marks[ACTIVE, k - 1] > n:
                marks[ACTIVE, k] = marks[ACTIVE, k - 1]
                k -= 1
            marks[ACTIVE, k] = n
            count += 1
    marks[COUNTS, OPEN] = count


@kernel
def soonest(day: int, marks: Ints, numbers: Floats, horizon: int) -> float:
    """When the first open task may begin; any moment of the day will do if one may begin today."""
    first = float(horizon)
    for a in range(marks[COUNTS, OPEN]):
        first = min(first, numbers[READY, marks[ACTIVE, a]])
        if first < day + 1:
            break
    return first


@kernel
def work_day(
    day: int,
    key: np.uint64,
    first: int,
    crew: Floats,
    calm: Floats,
    whole: Ints,
    sizes: Floats,
    follows: Ints,
    classes: Floats,
    rules: Floats,
    rain: Floats,
    low: Floats,
    high: Floats,
    normals: Floats,
    marks: Ints,
    numbers: Floats,
    finish: Floats,
) -> None:
    """Work one day down the list of open tasks; what came of it stands in the room's last rows."""
    hands = crew[HANDS, day]
    room = crew[CLOCK, day] * hands
    used, exposed, mortar, now, blocked, a = 0.0, 0.0, 0.0, float(day), -1, 0
    while a < marks[COUNTS, OPEN] and room - used > TINY:
        j = marks[ACTIVE, a]
        c = whole[KIND, j]
        if numbers[READY, j] > now + TINY:
            a += 1
            continue
        if marks[FRESH, c] != day:
            marks[FRESH, c] = day
            numbers[LOST, c], marks[CAUSE, c] = day_loss(
                c, key, first, day, crew[CLOCK, day], calm[c, day], classes, rules, rain, low, high, normals
            )
        loss = numbers[LOST, c] * hands
        free = room - used if loss <= 0.0 else min(room - used, max(0.0, room - loss - exposed))
        take = min(numbers[LEFT, j], free)
        numbers[LEFT, j] -= take
        used += take
        exposed += take if loss > 0.0 else 0.0
        mortar += take * classes[c, 2]
        if numbers[LEFT, j] > TINY:
            blocked = marks[CAUSE, c] if blocked < 0 and loss > 0.0 else blocked
            a += 1
            continue
        moment = numbers[READY, j]  # what only waits needs no crew
        if take > 0.0:
            now = moment = day + used / room
        finish_task(a, moment, whole, sizes, follows, marks, numbers, finish)
    numbers[TODAY, USED], numbers[TODAY, MORTAR] = used, mortar
    marks[COUNTS, BLOCKED] = blocked


@kernel
def run_season(
    key: np.uint64,
    crew: Floats,
    next_day: Ints,
    calm: Floats,
    whole: Ints,
    sizes: Floats,
    follows: Ints,
    classes: Floats,
    rules: Floats,
    calendar: Calendar,
    tables: Tables,
    given: bool,
    rain: Floats,
    low: Floats,
    high: Floats,
    marks: Ints,
    numbers: Floats,
    finish: Floats,
    hours: Floats,
) -> None:
    """Run one season to its last task, or to the end of the horizon.

    Args:
        key: of the season.
        crew: see above.
        next_day: the first working day from each day on, the horizon where there is none.
        calm: chance that a class's limit of wind holds (classes, days) [1].
        whole: whole numbers of the tasks, see above.
        sizes: sizes of the tasks, see above.
        follows: the list of followers.
        classes: (classes, 9), see above.
        rules: (12,), see above.
        calendar: first ordinal, lead ordinal, slot and month of each day, for the weather.
        tables: of the weather model.
        given: whether the season's weather is made already.
        rain: of the horizon and AHEAD days more [m].
        low: the same days [degC].
        high: the same days [degC].
        marks: room, see above.
        numbers: room, see above; the hours of each task stand in it already, and are used up.
        finish: moment at which each task is finished, filled here; the horizon where it is not.
        hours: of each cause, filled here.
    """
    first, lead, slot, month = calendar
    normals = tables[4]
    horizon, day = next_day.size, 0
    state = np.empty(4, np.float64)
    state[0] = -1.0
    begin(whole, marks, numbers, horizon, finish, hours)
    while marks[COUNTS, DONE] < finish.size:
        day = next_day[day] if day < horizon else horizon
        later = min(horizon, int(soonest(day, marks, numbers, horizon)))
        if later > day:
            hours[WAITING] += crew[BEFORE, later] - crew[BEFORE, day]
            day = later
            continue
        if day >= horizon:
            break
        last = (first + day + AHEAD - 1) // PIECE
        if not given and last > marks[COUNTS, MADE]:
            for piece in range(max(marks[COUNTS, MADE] + 1, (first + max(0, day - 1)) // PIECE), last + 1):
                fill_piece(piece, key, first, lead, slot, month, tables, state, rain, low, high)
            marks[COUNTS, MADE] = last
        work_day(
            day,
            key,
            first,
            crew,
            calm,
            whole,
            sizes,
            follows,
            classes,
            rules,
            rain,
            low,
            high,
            normals,
            marks,
            numbers,
            finish,
        )
        used, blocked = numbers[TODAY, USED], marks[COUNTS, BLOCKED]
        hours[WORKED] += used
        hours[CAUGHT] += numbers[TODAY, MORTAR] if hard_frost_follows(day, low, rules) else 0.0
        hours[WAITING if blocked < 0 else blocked] += crew[BEFORE, day + 1] - crew[BEFORE, day] - used
        day += 1


@kernel
def run_seasons(
    seed: int,
    first_season: int,
    crew: Floats,
    next_day: Ints,
    calm: Floats,
    whole: Ints,
    sizes: Floats,
    follows: Ints,
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
    given = days.shape[0] > 0
    made = np.zeros((3, days.shape[2]))
    most = max(sizes.shape[1], classes.shape[0], 4)
    marks, numbers = np.zeros((5, most), np.int64), np.zeros((4, most))
    for s in range(finish.shape[0]):
        key = season_key(seed, first_season + s)
        draw_hours(key, whole, sizes, quantiles, tables[4], pace, numbers)
        sky = days[s] if given else made
        run_season(
            key,
            crew,
            next_day,
            calm,
            whole,
            sizes,
            follows,
            classes,
            rules,
            calendar,
            tables,
            given,
            sky[0],
            sky[1],
            sky[2],
            marks,
            numbers,
            finish[s],
            hours[s],
        )
