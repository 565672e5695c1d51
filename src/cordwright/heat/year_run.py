"""What does a year of hours do to the room: how warm, how much heat from the stove, how cold in the morning?

The parts of the shell with their shapes, the room, the stove and the weather are laid out as plain arrays for the loop.
"""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.heat.year_elements import Floats, Modes

STEPS: Final = 4
"""Steps within an hour."""
WARM_UP: Final = 60 * 24
"""Hours run before the year counts."""
HOURS_OF_A_DAY: Final = 24
NO_LIMIT: Final = 1e9
AIR_TO_FACES: Final = 3.45
"""Between the air and the star of the inner faces [W/m2K] (`iso-13790-memory`)."""
RADIANT_GAINS: Final = 0.5
"""Share of the warmth of people and lamps that goes to the faces [1] (`iso-13790-memory`)."""
AIR_FELT: Final = 0.3
"""Weight of the air in the temperature that is felt; the faces have the rest [1] (`iso-13790-memory`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellPart:
    """A part of the shell that stores heat: `area` [m2], its shapes, `face` resistance to the room [m2K/W].

    `outer`: temperature felt at its other side in each hour [degC], shape (hours,). `sun_share`: of the sun that comes
    into the room, what its face takes [1].
    """

    name: str
    area: float
    modes: Modes
    outer: Floats
    face: float = 0.13
    sun_share: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Draught:
    """Air through the shell: a fixed conductance [W/K], and one that wind and warmth drive.

    `leak` [W/K per root of (m3/s)2], `stack` per kelvin and `wind` per (m/s)2 as in the LBL model.
    """

    fixed: float = 0.0
    leak: float = 0.0
    stack: float = 0.0
    wind: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Vents:
    """Windows opened in summer: what they carry off [W/K], and the room's temperature over which they are opened."""

    conductance: float = 0.0
    over: float = 25.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StoveBody:
    """A stove: heat its body holds [J/K], what it gives the room [W/K], heat of its full fire into the body [W].

    `most`, `least`: charge at one firing [J]; a smaller need lights no fire. It burns at `slowest` at least [W], and
    so that it lasts `lasts` [s] if it can. `radiant`: share given as radiation [1].
    """

    capacity: float = 1e5
    conductance: float = 20.0
    power: float = 0.0
    most: float = 0.0
    least: float = 0.0
    slowest: float = 0.0
    lasts: float = 18000.0
    radiant: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Who tends the stove: wanted temperature [degC], clock hours of the two fires, waking hours.

    `loss` of the building as this person knows it [W/K], `capacity` that a fire has to warm [J/K], `free` heat [W].
    `patience`: so many kelvin under the wanted temperature another fire is lit while awake.
    """

    wanted: float = 20.0
    fires: tuple[int, ...] = (7, 17)
    wakes: int = 7
    sleeps: int = 22
    loss: float = 0.0
    capacity: float = 0.0
    free: float = 0.0
    patience: float = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """The hours of a year, each shape (hours,), the first at midnight: a whole number of days.

    `outside` [degC], `sun` that comes into the room [W], `gains` of people and lamps [W], `wind` [m/s], `in_use`
    (1 or 0), `heater` and `cooler`: temperatures that an ideal machine holds [degC], none by default.
    """

    outside: Floats
    sun: Floats
    gains: Floats
    wind: Floats
    in_use: Floats
    heater: Floats | None = None
    cooler: Floats | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shell:
    """All that surrounds the room: parts that store heat, `past` what panes and bridges lose at once [W/K].

    `air`: what the room's air and small things hold [J/K]; `faces`: area of all inner faces [m2].
    """

    parts: tuple[ShellPart, ...]
    past: float
    air: float
    faces: float
    draught: Draught = field(default_factory=Draught)
    vents: Vents = field(default_factory=Vents)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearRun:
    """What the hours came to, each array of shape (hours,).

    `felt` temperature and that of the `air` [degC]; `heater`, `cooler`, `fire` [W]; `past` and `parts`: heat to the
    outside at once and into the parts [W]; `body` of the stove [degC] and `charges` laid in [J] at each hour;
    `vents` open (1 or 0).
    `into`, `out_of`: heat into and out of each part over the year [J/m2], shape (parts,).
    """

    felt: Floats
    air: Floats
    heater: Floats
    cooler: Floats
    fire: Floats
    past: Floats
    parts: Floats
    body: Floats
    charges: Floats
    vents: Floats
    into: Floats
    out_of: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """The arrays that the loop takes, in its order."""

    hourly: Floats
    weather: Floats
    sun_share: Floats
    of_mode: Floats
    first: NDArray[np.int64]
    ties: Floats
    area: Floats
    steady: Floats
    stove: Floats
    person: Floats
    fires: NDArray[np.int64]


def mode_table(parts: tuple[ShellPart, ...], seconds: float) -> tuple[Floats, NDArray[np.int64]]:
    """How each shape fades and is driven in one step, shape (8, shapes), and where each part begins.

    Args:
        parts: of the shell.
        seconds: length of a step [s].
    """
    rows = []
    for part in parts:
        m = part.modes
        kept = np.exp(-m.fading * seconds)
        passed = -np.expm1(-m.fading * seconds) / m.fading
        share = passed / seconds
        mean = (1 - share) / m.fading
        driven = (passed * m.inside, passed * m.outside, mean * m.inside, mean * m.outside)
        rows.append(np.stack([kept, share, *driven, m.inside, m.outside]))
    first = np.cumsum([0, *(row.shape[1] for row in rows)])
    return np.concatenate(rows, axis=1), first.astype(np.int64)


def tables(shell: Shell, hours: Hours, stove: StoveBody, person: Person, steps: int = STEPS) -> Tables:
    """Lay out a building for the loop.

    Args:
        shell: what surrounds the room.
        hours: weather and use.
        stove: the stove; without power none.
        person: who tends it.
        steps: within an hour.
    """
    parts = shell.parts
    of_mode, first = mode_table(parts, 3600.0 / steps)
    area = np.array([p.area for p in parts])
    share = np.array([p.sun_share for p in parts])
    fires = np.zeros(HOURS_OF_A_DAY, dtype=np.int64)
    fires[list(person.fires)] = 1
    ahead = hours_ahead(person.fires)
    draught, vents = shell.draught, shell.vents
    return Tables(
        hourly=_hourly(hours, ahead),
        weather=np.stack([p.outer for p in parts]),
        sun_share=share / area * np.array([p.face for p in parts]),
        of_mode=of_mode,
        first=first,
        ties=np.array([[p.modes.tie for p in parts], [p.modes.outer_tie for p in parts]]),
        area=area,
        steady=np.array(
            [
                shell.past,
                draught.leak,
                draught.stack,
                draught.wind,
                vents.conductance,
                vents.over,
                shell.air,
                draught.fixed,
                AIR_TO_FACES * shell.faces,
                RADIANT_GAINS,
                AIR_FELT,
            ]
        ),
        stove=np.array([stove.capacity, stove.conductance, stove.power, stove.radiant, stove.slowest, stove.lasts]),
        person=np.array(
            [
                person.wanted,
                person.loss,
                float(ahead),
                person.capacity,
                stove.capacity,
                stove.most,
                stove.least,
                person.free,
                person.patience,
                float(person.wakes),
                float(person.sleeps),
            ]
        ),
        fires=fires,
    )


def hours_ahead(fires: tuple[int, ...]) -> int:
    """Hours that one fire has to last: a day shared among them."""
    return HOURS_OF_A_DAY // max(1, len(fires))


def _hourly(hours: Hours, ahead: int) -> Floats:
    n = hours.outside.size
    running = np.concatenate([[0.0], np.cumsum(np.concatenate([hours.outside, hours.outside[:ahead]]))])
    outlook = (running[ahead : ahead + n] - running[:n]) / ahead
    heater = np.full(n, -NO_LIMIT) if hours.heater is None else hours.heater
    cooler = np.full(n, NO_LIMIT) if hours.cooler is None else hours.cooler
    return np.stack([hours.outside, hours.sun, hours.gains, hours.wind, hours.in_use, heater, cooler, outlook])


def run_year(
    shell: Shell, hours: Hours, stove: StoveBody, person: Person, *, steps: int = STEPS, warm_up: int = WARM_UP
) -> YearRun:
    """Run a year of hours, after a warm-up with the year's last hours.

    Args:
        shell: what surrounds the room.
        hours: weather and use.
        stove: the stove; without power none.
        person: who tends it.
        steps: within an hour.
        warm_up: hours run before the year counts.

    Sources: `two-port-galerkin`; within a step the weather and the room stand still.
    """
    from cordwright.heat._year_kernels import run_hours

    t = tables(shell, hours, stove, person, steps)
    rows, flows = run_hours(
        t.hourly, t.weather, t.sun_share, t.of_mode, t.first, t.ties, t.area, t.steady, t.stove, t.person, t.fires,
        steps, warm_up,
    )  # fmt: skip
    names = ("felt", "air", "heater", "cooler", "fire", "past", "parts", "body", "charges", "vents")
    return YearRun(**dict(zip(names, rows, strict=True)), into=flows[0], out_of=flows[1])


def warm_up() -> None:
    """Compile the loop of the hours, so that nobody waits for it at the first year."""
    from cordwright.heat.year_elements import Layer, gathered, layered

    day = np.zeros(HOURS_OF_A_DAY)
    modes = gathered(layered((Layer(thickness=0.1, conductivity=0.1, density=500.0, specific_heat=1600.0),)))
    part = ShellPart(name="wall", area=1.0, modes=modes, outer=day)
    shell = Shell(parts=(part,), past=1.0, air=1e4, faces=1.0)
    run_year(shell, Hours(outside=day, sun=day, gains=day, wind=day, in_use=day), StoveBody(), Person(), warm_up=0)
