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

    `usual`: how warm it has felt over the last half day; what that and the room now lack, or have too much, is made good.
    `person`: set temperature, loss [W/K], hours ahead, capacity of room and shell [J/K], stove's capacity [J/K], most
    and least charge [J], free heat [W].
    """
    loss = person[1] * (person[0] - outlook) - person[7]
    need = loss * person[2] * 3600.0 + person[3] * (person[0] - max(usual, room))
    need -= max(0.0, person[4] * (stove - room)) + burning
    if need < person[6]:
        return 0.0
    return min(need, person[5])


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
    result = np.zeros((10, hours))
    flows = np.zeros((2, area.size))
    shapes = np.zeros(of_mode.shape[1])
    sun = np.zeros(area.size)
    outer = np.zeros(area.size)
    air, star, felt, body = person[0], person[0], person[0], person[0]
    burning, rate, usual = 0.0, stove[2], person[0]
    memory = 1.0 - math.exp(-seconds / 43200.0)
    fade = math.exp(-stove[1] / stove[0] * seconds)
    for turn in range(-warm_up, hours):
        hour = turn % hours
        counted = turn >= 0
        if turn == 0:
            flows[:] = 0.0
        outside, sunshine, gains, wind = hourly[0, hour], hourly[1, hour], hourly[2, hour], hourly[3, hour]
        clock = hour % 24
        in_use = hourly[4, hour] > 0.5
        laid = 0.0
        if in_use and stove[2] > 0.0:
            cold = burning <= 0.0 and felt < person[0] - person[8] and person[9] <= clock < person[10]
            if fires[clock] == 1 or cold:
                laid = charge_wanted(person, usual, felt, body, hourly[7, hour], burning)
                burning += laid
                if laid > 0.0:
                    rate = min(stove[2], max(stove[4], burning / stove[5]))
        for part in range(area.size):
            sun[part] = sun_share[part] * sunshine
            outer[part] = weather[part, hour]
        for _ in range(steps):
            leak = steady[1] * math.sqrt(steady[2] * abs(air - outside) + steady[3] * wind * wind)
            vent = 0.0
            if in_use and felt > steady[5] and outside < air and body < felt + 5.0:
                vent = steady[4]
            through = steady[7] + leak + vent
            given, taken = shell_balance(shapes, of_mode, first, area, ties[0], outer, sun)
            fire = min(rate, burning / seconds)
            burning -= fire * seconds
            # The body answers the room of the step before; what leaves it is what the room gets.
            warm = fire + (stove[0] / seconds) * (1.0 - fade) * (body - felt - fire / stove[1])
            body = fade * body + (1.0 - fade) * (felt + fire / stove[1])
            # Two balances: of the star, where all faces and panes meet, and of the air.
            star_per = steady[8] + steady[0] + taken
            star_known = steady[0] * outside + given + sunshine + steady[9] * gains + stove[3] * warm
            tied = steady[8] / star_per
            hold = steady[6] / seconds
            per = hold + through + steady[8] * (1.0 - tied)
            known = hold * air + through * outside + (1.0 - steady[9]) * gains + (1.0 - stove[3]) * warm
            known += tied * star_known
            heat, cool = 0.0, 0.0
            air = known / per
            if air < hourly[5, hour]:
                air = hourly[5, hour]
                heat = per * air - known
            elif air > hourly[6, hour]:
                air = hourly[6, hour]
                cool = known - per * air
            star = tied * air + star_known / star_per
            felt = steady[10] * air + (1.0 - steady[10]) * star
            usual += memory * (felt - usual)
            shell_step(shapes, of_mode, first, ties, outer, sun, star, flows, seconds)
            if counted:
                result[0, hour] += felt / steps
                result[1, hour] += air / steps
                result[2, hour] += heat / steps
                result[3, hour] += cool / steps
                result[4, hour] += fire / steps
                result[5, hour] += (through * (air - outside) + steady[0] * (star - outside)) / steps
                result[6, hour] += (taken * star - given) / steps
                result[9, hour] = max(result[9, hour], 1.0 if vent > 0.0 else 0.0)
        if counted:
            result[7, hour] = body
            result[8, hour] = laid
    return result, flows
