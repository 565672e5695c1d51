"""When is each task of one season finished, day by day, and what took the hours that were lost?

The crew works down the list of tasks in the order of the job: a task may go on when all it waits for is finished and
has stood for its time, and when the day's weather leaves hours for it. Days on which nothing may begin are jumped over.
Weather and draws come from hashed bits of seed, season and day, so that a season is the same alone or among thousands.

Days count from 0, a moment is a day and its share of the working hours. Numbers of a weather class, in this order:
exposure, least high [degC], frost (1 or 0), heat [degC], wind [m/s] (in `crew` as chances), rain that soaks [m], hours it takes, hours of
covering, rain that takes the day whole [m]. Numbers of the rules: a [h], b, scatter, restart [h], give up [h], begin of
the day [h], whole days (1 or 0), night [degC], hard frost [degC], nights, error [K], growth of the error [K].

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
Crew = tuple[Floats, Floats, Floats, Ints, Floats]
Tasks = tuple[Ints, Ints, Floats, Ints, Ints, Ints, Floats, Ints, Ints, Floats, Floats]

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
    return np.float64(np.int64(bits >> U11)) * UNIT


@kernel
def between(tables: Floats, row: int, share: float) -> float:
    """One row of a table of evenly spaced shares read at one, along straight lines."""
    steps = tables.shape[1] - 1
    place = share * steps
    at = min(int(place), steps - 1)
    return tables[row, at] + (place - at) * (tables[row, at + 1] - tables[row, at])


@kernel
def draw_hours(key: np.uint64, tasks: Tasks, quantiles: Floats, normals: Floats, pace: Floats, left: Floats) -> None:
    """Give each task its hours in this season: one pace for all laying, one draw for all tasks of a trade."""
    table, trade, size = tasks[0], tasks[1], tasks[2]
    normal = normals[min(int(share_of(key, OF_HOURS, 0) * normals.size), normals.size - 1)]
    rate = math.exp(pace[0] + pace[1] * normal)
    for j in range(left.size):
        if table[j] < 0:
            left[j] = size[j] / rate
        else:
            left[j] = size[j] * between(quantiles, table[j], share_of(key, OF_HOURS, 1 + trade[j]))


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
    for night in range(1, int(rules[9]) + 1):
        if low[day + night] < rules[8]:
            return True
    return False


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
    classes: Floats,
    c: int,
    rules: Floats,
    rain: float,
    before: float,
    high: float,
    overlap: float,
    blown: bool,
    frost: bool,
    hours: float,
) -> tuple[float, int]:
    """Hours that the weather takes from one kind of work on one day [h], and what takes most of them."""
    if high < classes[c, 1] or (classes[c, 2] > 0.5 and frost):
        return hours, COLD
    if blown:
        return hours, WIND
    loss = rain_loss(classes, c, rules, rain, before, overlap, hours) if classes[c, 0] > 0.0 else 0.0
    if high > classes[c, 3] and loss < hours / 2:
        return hours / 2, HEAT
    return loss, RAIN


@kernel
def run_season(
    key: np.uint64,
    crew: Crew,
    tasks: Tasks,
    classes: Floats,
    rules: Floats,
    calendar: Calendar,
    tables: Tables,
    given: bool,
    days: tuple[Floats, Floats, Floats],
    left: Floats,
    finish: Floats,
    hours: Floats,
) -> None:
    """Run one season to its last task, or to the end of the horizon.

    Args:
        key: of the season.
        crew: hours of each day's clock, hands, crew hours summed before each day, the first working
            day from each day on (the horizon where there is none), and the chance that a class's wind limit holds
            (classes, days).
        tasks: table, trade, size, weather class, earliest day, starts of what follows, nights it stands, what follows, how many it
            waits for, and two arrays of room as long as the list of tasks.
        classes: (classes, 9), see above.
        rules: (12,), see above.
        calendar: first ordinal, lead ordinal, slot and month of each day, for the weather.
        tables: of the weather model.
        given: whether `days` holds the season's weather already.
        days: rain [m], low and high [degC] of the horizon and AHEAD days more.
        left: hours of each task, used up here.
        finish: moment at which each task is finished, filled here; the horizon where it is not.
        hours: of each cause, filled here.
    """
    clock, hands, before, next_day, calm = crew
    kind, earliest, follow_from, cure, follows = tasks[3], tasks[4], tasks[5], tasks[6], tasks[7]
    needed, waits, ready, normals = tasks[8], tasks[9], tasks[10], tables[4]
    rain, low, high = days
    first, lead, slot, month = calendar
    count, horizon = left.size, clock.size
    state = np.empty(4, np.float64)
    state[0] = -1.0
    made = -1
    active = np.empty(count, np.int64)
    lost = np.empty(classes.shape[0], np.float64)
    cause = np.empty(classes.shape[0], np.int64)
    fresh = np.empty(classes.shape[0], np.int64)
    fresh[:] = -1
    for j in range(count):
        finish[j] = horizon
        waits[j] = needed[j]
        ready[j] = max(0, earliest[j])
    for c in range(CAUSES):
        hours[c] = 0.0
    open_, done, day = 0, 0, 0
    for j in range(count):
        if waits[j] == 0:
            active[open_] = j
            open_ += 1
    while day < horizon and done < count:
        day = next_day[day]
        if day >= horizon:
            break
        soonest = float(horizon)
        for a in range(open_):
            soonest = min(soonest, ready[active[a]])
            if soonest < day + 1:
                break
        if soonest >= day + 1:
            later = min(horizon, int(soonest))
            hours[WAITING] += before[later] - before[day]
            day = later
            continue
        if not given:
            last = (first + day + AHEAD - 1) // PIECE
            piece = (first + max(0, day - 1)) // PIECE
            while piece <= last:
                if piece > made:
                    fill_piece(piece, key, first, lead, slot, month, tables, state, rain, low, high)
                    made = piece
                piece += 1
        whole = clock[day] * hands[day]
        used, exposed, met, blocked, masonry = 0.0, 0.0, -1.0, -1, 0.0
        frosty = -1
        a = 0
        now = float(day)
        while a < open_ and whole - used > TINY:
            j = active[a]
            if ready[j] > now + TINY:
                a += 1
                continue
            c = kind[j]
            if fresh[c] != day:
                fresh[c] = day
                if met < 0.0:
                    met = 0.0
                    if rain[day] > 0.0:
                        met = wet_overlap(key, first + day, rain[day], clock[day], rules, normals)
                if classes[c, 2] > 0.5 and frosty < 0:
                    frosty = int(frost_ahead(key, first, day, low, rules, normals))
                blown = calm[c, day] < 1.0 and share_of(key, OF_SKY, 8 * (first + day) + 4) >= calm[c, day]
                soak = rain[day - 1] if day > 0 else 0.0
                lost[c], cause[c] = day_loss(
                    classes, c, rules, rain[day], soak, high[day], met, blown, frosty == 1, clock[day]
                )
            room = whole - used
            if lost[c] > 0.0:
                room = min(room, whole - lost[c] * hands[day] - exposed)
            take = min(left[j], max(0.0, room))
            left[j] -= take
            used += take
            if lost[c] > 0.0:
                exposed += take
            if classes[c, 2] > 0.5:
                masonry += take
            if left[j] > TINY:
                if blocked < 0 and lost[c] > 0.0:
                    blocked = c
                a += 1
                continue
            moment = ready[j]  # what only waits needs no crew
            if take > 0.0:
                now = moment = day + used / whole
            finish[j] = moment
            # It stands whole nights: what ends today may be built upon tomorrow morning at the soonest.
            stood = moment if cure[j] <= 0.0 else math.ceil(moment - TINY) + cure[j] - 1.0
            done += 1
            for k in range(a, open_ - 1):
                active[k] = active[k + 1]
            open_ -= 1
            for f in range(follow_from[j], follow_from[j + 1]):
                n = follows[f]
                waits[n] -= 1
                ready[n] = max(ready[n], stood)
                if waits[n] == 0:
                    k = open_
                    while k > 0 and active[k - 1] > n:
                        active[k] = active[k - 1]
                        k -= 1
                    active[k] = n
                    open_ += 1
        hours[WORKED] += used
        if masonry > 0.0 and hard_frost_follows(day, low, rules):
            hours[CAUGHT] += masonry
        spare = whole - used
        if blocked >= 0:
            hours[cause[blocked]] += spare
        else:
            hours[WAITING] += spare
        day += 1


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
    finish: Floats,
    hours: Floats,
) -> None:
    """Run some seasons one after the other: `finish` (seasons, tasks) [d] and `hours` (seasons, causes) are filled."""
    horizon = crew[0].size
    days = (np.zeros(horizon + AHEAD), np.zeros(horizon + AHEAD), np.zeros(horizon + AHEAD))
    left = np.empty(finish.shape[1], np.float64)
    for s in range(finish.shape[0]):
        key = season_key(seed, first_season + s)
        draw_hours(key, tasks, quantiles, tables[4], pace, left)
        run_season(key, crew, tasks, classes, rules, calendar, tables, False, days, left, finish[s], hours[s])


@kernel
def run_given(
    seed: int,
    crew: Crew,
    tasks: Tasks,
    quantiles: Floats,
    pace: Floats,
    classes: Floats,
    rules: Floats,
    calendar: Calendar,
    tables: Tables,
    rain: Floats,
    low: Floats,
    high: Floats,
    finish: Floats,
    hours: Floats,
) -> None:
    """Run seasons whose weather is given: rain [m], low and high [degC] as arrays (seasons, horizon + AHEAD)."""
    left = np.empty(finish.shape[1], np.float64)
    for s in range(finish.shape[0]):
        key = season_key(seed, s)
        draw_hours(key, tasks, quantiles, tables[4], pace, left)
        days = (rain[s], low[s], high[s])
        run_season(key, crew, tasks, classes, rules, calendar, tables, True, days, left, finish[s], hours[s])
