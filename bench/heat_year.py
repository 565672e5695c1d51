"""How fast is a year of hours, beside the same model as a plain NumPy loop?

Ours: the compiled loop over 8760 hours in steps of a quarter of one, after no warm-up, on the tables of a small house
(walls, posts, roof, floor, things; stove and person). Peer, in the same process and the same rounds: the same steps
written with NumPy, all shapes of all parts as one array, one Python turn a step. Both end at the same temperatures.
CPU seconds of one thread; the compiler has been warmed up.
"""

import time
from math import pi

import numpy as np

from cordwright.heat._year_kernels import run_hours
from cordwright.heat.year_elements import Layer, gathered, layered
from cordwright.heat.year_run import Draught, Hours, Person, Shell, ShellPart, StoveBody, Tables, tables
from timing import machine

N = 8760
STEPS = 4


def house() -> Tables:
    """A small house in a made-up cold year, its stove lit twice a day."""
    clock = np.arange(N)
    outside = 3 - 12 * np.cos(2 * pi * clock / N) + 4 * np.sin(2 * pi * (clock - 9) / 24)
    sun = 500 * np.maximum(0.0, np.sin(2 * pi * (clock - 6) / 24))

    def part(name: str, area: float, rows: tuple[tuple[float, float, float], ...], share: float) -> ShellPart:
        layers = tuple(Layer(thickness=d, conductivity=k, density=c, specific_heat=1000.0) for d, k, c in rows)
        return ShellPart(name=name, area=area, modes=gathered(layered(layers)), outer=outside, sun_share=share)

    parts = (
        part("walls", 35.0, ((0.1, 0.45, 1200), (0.15, 0.15, 500), (0.1, 0.45, 1200)), 0.25),
        part("posts", 8.0, ((0.2, 0.13, 800),), 0.05),
        part("roof", 27.0, ((0.02, 0.13, 700), (0.3, 0.042, 90)), 0.1),
        part("floor", 28.0, ((0.028, 0.13, 700), (0.1, 0.035, 50), (0.5, 2.0, 2000)), 0.6),
        part("things", 28.0, ((0.02, 0.13, 1000),), 0.0),
    )
    shell = Shell(parts=parts, past=15.0, air=9e4, faces=130.0, draught=Draught(fixed=10.0))
    hours = Hours(
        outside=outside, sun=sun, gains=np.full(N, 90.0), wind=np.full(N, 3.0), in_use=(clock // 24 % 7 > 2) * 1.0
    )
    stove = StoveBody(capacity=6e4, conductance=24.0, power=5e3, most=9e7, least=9e6, slowest=2500.0)
    return tables(shell, hours, stove, Person(wanted=19.0, loss=58.0, capacity=3e6, free=80.0))


def ours(t: Tables) -> np.ndarray:
    """The compiled loop: felt temperature of each hour."""
    rows, _ = run_hours(
        t.hourly, t.weather, t.sun_share, t.of_mode, t.first, t.ties, t.area, t.steady, t.stove, t.person, t.fires,
        STEPS, 0,
    )  # fmt: skip
    return rows[0]


def peer(t: Tables) -> np.ndarray:
    """The same model as a NumPy loop, one array for all shapes."""
    of = np.repeat(np.arange(t.area.size), np.diff(t.first))
    fade, kept, drive_in, drive_out, mean_in, mean_out, w_in, _ = t.of_mode
    taken = float((t.area * (t.ties[0] - np.bincount(of, w_in * mean_in))).sum())
    seconds, s = 3600.0 / STEPS, t.steady
    memory, body_fade = 1 - np.exp(-seconds / 43200), np.exp(-t.stove[1] / t.stove[0] * seconds)
    shapes = np.zeros(of.size)
    air = star = felt = body = usual = t.person[0]
    burning, rate, out = 0.0, t.stove[2], np.zeros(N)
    star_per = s[8] + s[0] + taken
    tied = s[8] / star_per
    for hour in range(N):
        outside, sunshine, gains, wind, in_use, _, _, outlook = t.hourly[:, hour]
        p = t.person
        cold = burning <= 0 and felt < p[0] - p[8] and p[9] <= hour % 24 < p[10]
        if in_use > 0.5 and (t.fires[hour % 24] or cold):
            need = (p[1] * (p[0] - outlook) - p[7]) * p[2] * 3600 + p[3] * (p[0] - max(usual, felt))
            need -= max(0.0, p[4] * (body - felt)) + burning
            if need >= p[6]:
                burning += min(need, p[5])
                rate = min(t.stove[2], max(t.stove[4], burning / t.stove[5]))
        sun, outer = t.sun_share * sunshine, t.weather[:, hour]
        for _ in range(STEPS):
            leak = s[1] * np.sqrt(s[2] * abs(air - outside) + s[3] * wind * wind)
            vent = s[4] if in_use > 0.5 and felt > s[5] and outside < air and body < felt + 5 else 0.0
            through = s[7] + leak + vent
            given = float((t.area[of] * w_in * (kept * shapes + mean_out * outer[of] + mean_in * sun[of])).sum())
            given -= float((t.area * t.ties[0] * sun).sum())
            fire = min(rate, burning / seconds)
            burning -= fire * seconds
            settled = felt + fire / t.stove[1]
            warm = fire + t.stove[0] / seconds * (1 - body_fade) * (body - settled)
            body = body_fade * body + (1 - body_fade) * settled
            star_known = s[0] * outside + given + sunshine + s[9] * gains + t.stove[3] * warm
            hold = s[6] / seconds
            known = hold * air + through * outside + (1 - s[9]) * gains + (1 - t.stove[3]) * warm + tied * star_known
            air = known / (hold + through + s[8] * (1 - tied))
            star = tied * air + star_known / star_per
            felt = s[10] * air + (1 - s[10]) * star
            usual += memory * (felt - usual)
            shapes = fade * shapes + drive_in * (star + sun)[of] + drive_out * outer[of]
            out[hour] += felt / STEPS
    return out


def main() -> None:
    """Print both times and their ratio."""
    t = house()
    apart = float(np.abs(ours(t) - peer(t)).max())
    machine()
    times: list[list[float]] = [[], []]
    for _ in range(3):
        for kept, work in zip(times, (ours, peer), strict=True):
            start = time.process_time()
            work(t)
            kept.append(time.process_time() - start)
    least = [min(x) for x in times]
    print(f"a year of hours, {t.of_mode.shape[1]} shapes, {STEPS} steps an hour: ours {1e3 * least[0]:.1f} ms CPU")
    print(f"peer, the same model as a NumPy loop:            {1e3 * least[1]:.0f} ms CPU")
    print(f"peer over ours: {least[1] / least[0]:.0f} (wanted 20); furthest apart {apart:.1e} K")


if __name__ == "__main__":
    main()
