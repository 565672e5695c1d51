"""Laws of the year by its hours: heat is neither made nor lost, more loss asks for more wood, and both loops agree."""

import cmath
import importlib
import os
import subprocess
import sys
from dataclasses import replace
from math import inf, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.heat.conductivity import Conductivity, WallMaterials
from cordwright.heat.ground import Slab, ground, slab_transmittance
from cordwright.heat.year_cell import cell_modes, cell_part, steady_of
from cordwright.heat.year_elements import Layer, areal_capacity, gathered, layered, wave
from cordwright.heat.year_run import (
    Draught,
    Hours,
    Person,
    Shell,
    ShellPart,
    StoveBody,
    Vents,
    YearRun,
    mode_table,
    run_year,
    tables,
)
from cordwright.plan.inputs import WallSection

N = 24 * 60
CLOCK = np.arange(N) % 24
OUTSIDE = -4 + 6 * np.sin(2 * pi * (CLOCK - 9) / 24) + 4 * np.sin(2 * pi * np.arange(N) / (24 * 30))
SUN = 400 * np.maximum(0.0, np.sin(2 * pi * (CLOCK - 6) / 24))


def layer(d: float, k: float, rho_c: float) -> Layer:
    return Layer(thickness=d, conductivity=k, density=rho_c / 1000, specific_heat=1000)


LOG = layered((layer(0.1, 0.4, 1.2e6), layer(0.15, 0.13, 0.5e6), layer(0.1, 0.4, 1.2e6)))
ROOF = layered((layer(0.02, 0.13, 0.7e6), layer(0.3, 0.042, 0.09e6)), inside=0.10)


def shell(past: float = 15.0, **changes: object) -> Shell:
    parts = (
        ShellPart(name="walls", area=35.0, modes=gathered(LOG), outer=OUTSIDE, sun_share=0.4),
        ShellPart(name="roof", area=27.0, modes=gathered(ROOF), outer=OUTSIDE - 1, face=0.10, sun_share=0.1),
    )
    return replace(Shell(parts=parts, past=past, air=9e4, faces=90.0, draught=Draught(fixed=10.0)), **changes)  # type: ignore[arg-type]


HOURS = Hours(outside=OUTSIDE, sun=SUN, gains=np.full(N, 90.0), wind=np.full(N, 3.0), in_use=np.ones(N))
STOVE = StoveBody(capacity=6e4, conductance=24.0, power=5000.0, most=9e7, least=9e6, slowest=2500.0)
PERSON = Person(wanted=19.0, loss=50.0, capacity=3e6, free=80.0)


def loss_of(made: Shell) -> float:
    return made.past + made.draught.fixed + sum(p.area * p.modes.transmittance for p in made.parts)


def test_heat_in_is_heat_out_to_the_last_joule() -> None:
    """A year that repeats itself: after the warm-up the room stands as it began, and all that came in went out."""
    made = shell()
    still = Hours(
        outside=np.tile(OUTSIDE[:24], 60), sun=np.tile(SUN[:24], 60), gains=HOURS.gains, wind=HOURS.wind,
        in_use=np.zeros(N),
    )  # fmt: skip
    parts = tuple(replace(p, outer=np.tile(p.outer[:24], 60)) for p in made.parts)
    year = run_year(replace(made, parts=parts), still, STOVE, PERSON, warm_up=N)
    came = (still.sun + still.gains).sum()
    went = (year.past + year.parts).sum()
    assert went == pytest.approx(came, rel=1e-9)
    for part, into, out in zip(parts, year.into, year.out_of, strict=True):
        assert into == pytest.approx(out, rel=1e-6), part.name


def test_room_and_stove_keep_what_the_balance_says() -> None:
    made = shell()
    year = run_year(made, HOURS, STOVE, PERSON)
    came = (year.fire + HOURS.sun + HOURS.gains).sum() * 3600
    went = (year.past + year.parts).sum() * 3600
    # What room and stove hold differs between the first and last hour by at most this much.
    held = (made.air + STOVE.capacity) * (np.ptp(year.body) + np.ptp(year.air))
    assert abs(came - went) <= held
    assert year.fire.sum() > 0


def test_steady_weather_ends_in_the_steady_loss() -> None:
    made = shell()
    still = Hours(outside=np.full(N, -10.0), sun=np.zeros(N), gains=np.zeros(N), wind=np.zeros(N), in_use=np.ones(N),
                  heater=np.full(N, 20.0))  # fmt: skip
    parts = tuple(replace(p, outer=np.full(N, -10.0)) for p in made.parts)
    year = run_year(replace(made, parts=parts), still, StoveBody(capacity=1.0, conductance=1e-6), PERSON)
    star = 3.45 * made.faces
    inner = loss_of(made) - made.draught.fixed
    whole = made.draught.fixed + star * inner / (star + inner)  # the air is held, the faces follow
    assert year.heater[-1] == pytest.approx(whole * 30.0, rel=1e-9)


@settings(max_examples=10, deadline=None)
@given(st.floats(1.0, 40.0), st.floats(1.0, 15.0))
def test_more_loss_asks_for_more_heat_and_is_colder(past: float, more: float) -> None:
    held = replace(HOURS, heater=np.full(N, 19.0))
    stove = StoveBody(capacity=1.0, conductance=1e-6)
    less, much = (run_year(shell(p), held, stove, PERSON) for p in (past, past + more))
    assert much.heater.sum() > less.heater.sum()
    free = Hours(outside=OUTSIDE, sun=SUN, gains=HOURS.gains, wind=HOURS.wind, in_use=HOURS.in_use)
    warm, cold = (run_year(shell(p), free, stove, PERSON).felt.mean() for p in (past, past + more))
    assert cold < warm


def test_wood_rises_with_loss_under_a_sensible_person() -> None:
    wood = [
        run_year(shell(p), HOURS, STOVE, replace(PERSON, loss=loss_of(shell(p)))).fire.sum() for p in (5.0, 15.0, 30.0)
    ]
    assert wood == sorted(wood)
    assert wood[2] > 1.2 * wood[0]


def test_the_room_stays_near_what_is_wanted() -> None:
    year = run_year(shell(), HOURS, STOVE, replace(PERSON, loss=loss_of(shell())))
    assert year.felt[N // 2 :].mean() == pytest.approx(19.0, abs=1.5)


def test_shorter_steps_change_little() -> None:
    coarse, fine = (run_year(shell(), HOURS, STOVE, PERSON, steps=n) for n in (4, 16))
    assert coarse.fire.sum() == pytest.approx(fine.fire.sum(), rel=0.03)
    assert np.abs(coarse.felt - fine.felt).mean() < 0.6


def test_open_windows_only_cool() -> None:
    hot = replace(HOURS, outside=OUTSIDE + 24)
    parts = tuple(replace(p, outer=p.outer + 24) for p in shell().parts)
    shut = run_year(shell(parts=parts), hot, StoveBody(), PERSON)
    aired = run_year(shell(parts=parts, vents=Vents(conductance=80.0, over=24.0)), hot, StoveBody(), PERSON)
    assert aired.felt.max() < shut.felt.max()
    assert aired.vents.max() == 1.0
    assert shut.vents.max() == 0.0


def _python_twin(shell_: Shell, hours: Hours, stove: StoveBody, person: Person) -> YearRun:
    """The same loop without a compiler, in a process of its own, over three days."""
    code = (
        "import numpy as np, sys, pickle\n"
        "from cordwright.heat._year_kernels import run_hours\n"
        "args = pickle.load(sys.stdin.buffer)\n"
        "pickle.dump(run_hours(*args), sys.stdout.buffer)\n"
    )
    import pickle

    t = tables(shell_, hours, stove, person)
    args = (t.hourly, t.weather, t.sun_share, t.of_mode, t.first, t.ties, t.area, t.steady, t.stove, t.person,
            t.fires, 4, 24)  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", code], input=pickle.dumps(args), capture_output=True, check=True, timeout=60,
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
    )  # fmt: skip
    rows, flows = pickle.loads(done.stdout)
    names = ("felt", "air", "heater", "cooler", "fire", "past", "parts", "body", "charges", "vents")
    return YearRun(**dict(zip(names, rows, strict=True)), into=flows[0], out_of=flows[1])


def test_the_loop_gives_the_same_without_a_compiler() -> None:
    three = 72
    cut = Hours(**{n: getattr(HOURS, n)[:three] for n in ("outside", "sun", "gains", "wind", "in_use")})
    parts = tuple(replace(p, outer=p.outer[:three]) for p in shell().parts)
    made = shell(parts=parts)
    ours = run_year(made, cut, STOVE, PERSON, warm_up=24)
    twin = _python_twin(made, cut, STOVE, PERSON)
    assert np.allclose(ours.felt, twin.felt, rtol=0, atol=1e-9)
    assert np.allclose(ours.charges, twin.charges, rtol=1e-9)
    assert importlib.util.find_spec("numba") is not None


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.floats(0.01, 0.5), st.floats(0.03, 2.5), st.floats(2e4, 2.5e6)), min_size=1, max_size=4))
def test_shapes_keep_the_steady_loss_and_never_make_heat(rows: list[tuple[float, float, float]]) -> None:
    layers = tuple(layer(*row) for row in rows)
    modes = gathered(layered(layers))
    resistance = 0.17 + sum(x.resistance for x in layers)
    assert modes.transmittance == pytest.approx(1 / resistance, rel=1e-6)
    assert (modes.fading > 0).all()
    inner, through, outer = wave(modes)
    assert inner.real >= abs(through.real) - 1e-9
    assert abs(through) <= 1 / resistance * (1 + 1e-6)
    assert outer.real > 0


def test_many_shapes_are_the_part_itself() -> None:
    few, many = gathered(LOG), gathered(LOG, 8)
    assert few.fading.size == many.fading.size == 8
    plain = LOG.conductance + 1j * 2 * pi / 86400 * np.diag(LOG.capacity)
    exact = LOG.inside.sum() - LOG.inside @ np.linalg.solve(plain, LOG.inside)
    assert wave(few)[0] == pytest.approx(exact, rel=2e-3)
    board = gathered(layered((layer(0.02, 0.13, 1e6),), outside=inf))
    assert board.transmittance == pytest.approx(0.0, abs=1e-12)
    assert areal_capacity(board) == pytest.approx(2e4, rel=0.05)


def test_mode_table_carries_a_step_exactly() -> None:
    part = ShellPart(name="x", area=1.0, modes=gathered(LOG), outer=OUTSIDE)
    coarse, fine = mode_table((part,), 3600.0)[0], mode_table((part,), 900.0)[0]
    assert coarse[0] == pytest.approx(fine[0] ** 4, rel=1e-12)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.0, 5.0), st.floats(0.1, 3.0), st.floats(10.0, 200.0))
def test_a_floor_better_insulated_loses_less(resistance: float, more: float, area: float) -> None:
    def slab(r: float) -> float:
        return slab_transmittance(
            Slab(area=area, perimeter=4.4 * area**0.5, wall=0.4, resistance=r, soil=ground("sand"))
        )

    assert slab(resistance + more) < slab(resistance)


EXACT = {0.4: (53.5, 0.165, 14.0), 0.3: (56.3, 0.324, 10.2), 0.6: (52.7, 0.032, 21.6)}
"""Walls solved exactly in space over a day, by log-end length: heat held [kJ/m2K], share through [1], lag [h]."""


@pytest.mark.parametrize("length", EXACT)
def test_a_round_cell_swings_like_the_wall_solved_in_space(length: float) -> None:
    def leads(k: float, c: float) -> Conductivity:
        return Conductivity(label="", value=k, low=k, high=k, heat_capacity=c)

    materials = WallMaterials(
        along=leads(0.27, 0.72e6), across=leads(0.115, 0.72e6), mortar=leads(0.8, 1.8e6), fill=leads(0.06, 0.24e6)
    )
    section = WallSection(log_end_length=length, bead=0.09, proud=0.0)
    u = steady_of(cell_part(section, materials, 0.58, 0.15, 1.0))
    modes = cell_modes(section, materials, 0.58, 0.15, u)
    held, share, lag = EXACT[length]
    through = wave(modes)[1]
    assert areal_capacity(modes) / 1000 == pytest.approx(held, rel=0.02)
    assert abs(through) / u == pytest.approx(share, rel=0.05)
    assert -cmath.phase(through) * 12 / pi % 24 == pytest.approx(lag, abs=0.5)
    warmer = cell_modes(section, materials, 0.58, 0.15, 0.9 * u)
    assert warmer.transmittance == pytest.approx(0.9 * u, rel=1e-4)
