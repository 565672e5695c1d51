"""How warm is the room in each hour of the year? The loop over the hours, compiled where numba stands.

Room, stove and every shape of the shell are carried from step to step. Within a step the weather and the room stand
still and each shape fades exactly; the room follows from one balance of heat. Arrays are described in `year_run`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
AIR, STAR, FELT, BODY, BURNING, RATE, USUAL = range(7)
"""Places in the state of the room: air, star of the faces, felt temperature, the stove's body [degC], heat still to
burn [J], its rate [W], and how warm it has felt over half a day [degC]."""


@kernel
def shell_balance(
    shapes: Floats, of_mode: Floats, first: Ints, area: Floats, tie: Floats, weather: Floats, sun: Floats
) -> tuple[float, float]:
    """Heat from the shell's parts into the room at 0 degC [W], and what each kelvin of the room takes off it [W/K].

    `of_mode` rows: fading per step, mean kept, drive in, drive out, mean in, mean out, weight in, weight out.
    `weather`: outer temperature of each part; `sun`: rise of the inner face's felt temperature by the sun [K].
    """
    given = 0.0
    taken = 0.0
    for part in range(area.size):
        steady = 0.0
        per_kelvin = tie[part]
        for m in range(first[part], first[part + 1]):
            steady += of_mode[6, m] * (of_mode[1, m] * shapes[m] + of_mode[5, m] * weather[part])
            per_kelvin -= of_mode[6, m] * of_mode[4, m]
        given += area[part] * (steady - per_kelvin * sun[part])
        taken += area[part] * per_kelvin
    return given, taken


@kernel
def shell_step(
    shapes: Floats,
    of_mode: Floats,
    first: Ints,
    ties: Floats,
    weather: Floats,
    sun: Floats,
    room: float,
    flows: Floats,
    seconds: float,
) -> None:
    """Carry the shapes over one step at a room temperature, and add up heat in and out of each part [J/m2]."""
    for part in range(weather.size):
        inner = room + sun[part]
        outer = weather[part]
        into, out = ties[0, part] * inner, ties[1, part] * outer
        for m in range(first[part], first[part + 1]):
            mean = of_mode[1, m] * shapes[m] + of_mode[4, m] * inner + of_mode[5, m] * outer
            into -= of_mode[6, m] * mean
            out -= of_mode[7, m] * mean
            shapes[m] = of_mode[0, m] * shapes[m] + of_mode[2, m] * inner + of_mode[3, m] * outer
        flows[0, part] += into * seconds
        flows[1, part] -= out * seconds


@kernel
def charge_wanted(person: Floats, usual: float, room: float, stove: float, outlook: float, burning: float) -> float:
    """Heat that a sensible person lays into the stove now [J]: the need until the next fire, within what it takes.

    `usual`: how warm it has felt over the last half day; what that and the room now lack is made
    good.
    `person`: set temperature, loss [W/K], hours ahead, capacity of room and shell [J/K], stove's capacity [J/K], most
    and least charge [J], free heat [W].
    """
    loss = person[1] * (person[0] - outlook) - person[7]
    need = loss * person[2] * 3600.0 + person[3] * (person[0] - max(usual, room))
    need -= max(0.0, person[4] * (stove - room)) + burning
    if need < person[6]:
        return 0.0
    return float(min(need, person[5]))


@kernel
def tend_stove(state: Floats, person: Floats, stove: Floats, fires: Ints, clock: int, outlook: float) -> float:
    """Light the stove at a usual hour, or when it has grown cold while somebody is awake; give the charge [J]."""
    cold = state[BURNING] <= 0.0 and state[FELT] < person[0] - person[8] and person[9] <= clock < person[10]
    if stove[2] <= 0.0 or (fires[clock] == 0 and not cold):
        return 0.0
    laid = charge_wanted(person, state[USUAL], state[FELT], state[BODY], outlook, state[BURNING])
    state[BURNING] += laid
    if laid > 0.0:
        state[RATE] = min(stove[2], max(stove[4], state[BURNING] / stove[5]))
    return laid


@kernel
def burn(state: Floats, stove: Floats, seconds: float) -> tuple[float, float]:
    """Burn for one step: heat of the fire, and what the stove's body gives the room of the step before [W]."""
    fire = min(state[RATE], state[BURNING] / seconds)
    state[BURNING] -= fire * seconds
    fade = math.exp(-stove[1] / stove[0] * seconds)
    settled = state[FELT] + fire / stove[1]
    warm = fire + stove[0] / seconds * (1.0 - fade) * (state[BODY] - settled)
    state[BODY] = fade * state[BODY] + (1.0 - fade) * settled
    return fire, warm


@kernel
def air_through(state: Floats, steady: Floats, outside: float, wind: float, in_use: bool) -> tuple[float, float]:
    """Air through the shell now, and of it through open windows [W/K]; none are opened beside a warm stove."""
    leak = steady[1] * math.sqrt(steady[2] * abs(state[AIR] - outside) + steady[3] * wind * wind)
    vent = 0.0
    if in_use and state[FELT] > steady[5] and outside < state[AIR] and state[BODY] < state[FELT] + 5.0:
        vent = steady[4]
    return steady[7] + leak + vent, vent


@kernel
def balance(
    state: Floats,
    steady: Floats,
    shell: tuple[float, float],
    heats: tuple[float, float, float],
    outside: float,
    through: float,
    limits: tuple[float, float],
    radiant: float,
    seconds: float,
) -> tuple[float, float]:
    """Set air, star and felt temperature by two balances, of the star where all faces meet and of the air.

    `shell`: heat from the parts at 0 degC and what a kelvin takes; `heats`: sun, gains, stove [W]. Gives what an ideal
    heater and cooler do to keep the air within the limits [W].
    """
    sunshine, gains, warm = heats
    star_per = steady[8] + steady[0] + shell[1]
    star_known = steady[0] * outside + shell[0] + sunshine + steady[9] * gains + radiant * warm
    tied = steady[8] / star_per
    hold = steady[6] / seconds
    per = hold + through + steady[8] * (1.0 - tied)
    known = hold * state[AIR] + through * outside + (1.0 - steady[9]) * gains + (1.0 - radiant) * warm
    known += tied * star_known
    state[AIR] = known / per
    machine = 0.0
    if not limits[0] <= state[AIR] <= limits[1]:
        state[AIR] = limits[0] if state[AIR] < limits[0] else limits[1]
        machine = per * state[AIR] - known
    state[STAR] = tied * state[AIR] + star_known / star_per
    state[FELT] = steady[10] * state[AIR] + (1.0 - steady[10]) * state[STAR]
    return max(machine, 0.0), max(-machine, 0.0)


@kernel
def run_hours(
    hourly: Floats,
    weather: Floats,
    sun_share: Floats,
    of_mode: Floats,
    first: Ints,
    ties: Floats,
    area: Floats,
    steady: Floats,
    stove: Floats,
    person: Floats,
    fires: Ints,
    steps: int,
    warm_up: int,
) -> tuple[Floats, Floats]:
    """Run the year after a warm-up; rows of the result by the hour, and the sums of each part [J/m2].

    `hourly` rows: outside temperature, sun into the room [W], other gains [W], wind [m/s], in use (1 or 0), least
    air temperature by a heater, most by a cooler, outlook of the hours until the next fire.
    Result rows: felt temperature, air, heater [W], cooler [W], fire [W], to the outside past the shell's parts [W],
    into the parts [W], stove's body, charges [J], vents open (1 or 0).
    """
    hours = hourly.shape[1]
    seconds = 3600.0 / steps
    memory = 1.0 - math.exp(-seconds / 43200.0)
    result = np.zeros((10, hours))
    flows = np.zeros((2, area.size))
    shapes, state = np.zeros(of_mode.shape[1]), np.full(7, person[0])
    state[BURNING], state[RATE] = 0.0, stove[2]
    for turn in range(-warm_up, hours):
        hour = turn % hours
        share = (1.0 if turn >= 0 else 0.0) / steps
        if turn == 0:
            flows[:] = 0.0
        outside, in_use = hourly[0, hour], hourly[4, hour] > 0.5
        laid = tend_stove(state, person, stove, fires, hour % 24, hourly[7, hour]) if in_use else 0.0
        sun = sun_share * hourly[1, hour]
        outer = np.ascontiguousarray(weather[:, hour])
        for _ in range(steps):
            through, vent = air_through(state, steady, outside, hourly[3, hour], in_use)
            shell = shell_balance(shapes, of_mode, first, area, ties[0], outer, sun)
            fire, warm = burn(state, stove, seconds)
            heats, limits = (hourly[1, hour], hourly[2, hour], warm), (hourly[5, hour], hourly[6, hour])
            heat, cool = balance(state, steady, shell, heats, outside, through, limits, stove[3], seconds)
            state[USUAL] += memory * (state[FELT] - state[USUAL])
            shell_step(shapes, of_mode, first, ties, outer, sun, state[STAR], flows, seconds)
            past = through * (state[AIR] - outside) + steady[0] * (state[STAR] - outside)
            into = shell[1] * state[STAR] - shell[0]
            kept = (state[FELT], state[AIR], heat, cool, fire, past, into)
            for row in range(7):
                result[row, hour] += share * kept[row]
            if share > 0.0 and vent > 0.0:
                result[9, hour] = 1.0
        if share > 0.0:
            result[7, hour] = state[BODY]
            result[8, hour] = laid
    return result, flows
