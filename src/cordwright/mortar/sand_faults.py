"""What in the owner's sieving, jar or bucket cannot be?"""

import math
from collections.abc import Iterator
from itertools import pairwise

from cordwright.base import Problem
from cordwright.mortar.grading import LOSS_NOTED, loss
from cordwright.mortar.materials import table_grain_density
from cordwright.mortar.sand_inputs import SandInput


def sand_faults(sands: tuple[SandInput, ...]) -> tuple[Problem, ...]:
    """Name every fault of the sands.

    Sources: common practice (`sieve-loss-practice`) for the mass lost in sieving.
    """
    found = [p for i, sand in enumerate(sands) for p in _faults(f"sands[{i}]", sand)]
    names = [sand.name for sand in sands]
    for i, name in enumerate(names):
        if name in names[:i]:
            found.append(
                Problem(field=f"sands[{i}].name", message=f"two sands are called {name}", hint="call one otherwise")
            )
    return tuple(found)


def _faults(field: str, sand: SandInput) -> Iterator[Problem]:
    if sand.retained and sand.passing:
        hint = "state one of them; the other follows from it"
        yield Problem(field=f"{field}.passing", message=f"{sand.name} has both retained and passing", hint=hint)
    elif sand.openings or sand.retained or sand.passing:
        yield from _series(field, sand)
    yield from _jar_and_bucket(field, sand)


def _series(field: str, sand: SandInput) -> Iterator[Problem]:
    faults = (*_order(field, sand), *_counts(field, sand))
    yield from faults
    if not faults:
        yield from _rising(field, sand)
        yield from _balance(field, sand)


def _order(field: str, sand: SandInput) -> Iterator[Problem]:
    for i, (wide, tight) in enumerate(pairwise(sand.openings)):
        if tight >= wide:
            above, below = sand.sieve_names[i : i + 2]
            message = f"{below} stands below {above}, which is not wider"
            hint = "write the sieves from the widest down"
            yield Problem(field=f"{field}.sieves[{i + 1}]", message=message, hint=hint)


def _counts(field: str, sand: SandInput) -> Iterator[Problem]:
    sieves = len(sand.openings)
    if sieves < 2:
        hint = 'at least two: sieves = ["4 mm", "2 mm", ...] or ["No.8", "No.16", ...]'
        yield Problem(field=f"{field}.sieves", message=f"{sieves} sieves tell no grading", hint=hint)
    if not sand.passing and len(sand.retained) != sieves + 1:
        message = f"{sieves} sieves and {len(sand.retained)} masses"
        hint = f"{sieves + 1} masses: one for each sieve and the pan last"
        yield Problem(field=f"{field}.retained", message=message, hint=hint)
    if sand.passing and len(sand.passing) != sieves:
        message = f"{sieves} sieves and {len(sand.passing)} shares passing"
        yield Problem(field=f"{field}.passing", message=message, hint=f"{sieves} shares: one for each sieve")


def _rising(field: str, sand: SandInput) -> Iterator[Problem]:
    for i, (above, below) in enumerate(pairwise(sand.passing)):
        if below > above:
            name = sand.sieve_names[i + 1]
            message = f"{below * 100:g} % passing {name}, and only {above * 100:g} % the wider sieve above"
            yield Problem(field=f"{field}.passing[{i + 1}]", message=message, hint="read the sieving again")
    if sand.retained and math.fsum(sand.retained) <= 0:
        yield Problem(field=f"{field}.retained", message="nothing lay on the sieves", hint="state the masses")


def _balance(field: str, sand: SandInput) -> Iterator[Problem]:
    """Up to the limit a loss is told with the sand; beyond it nothing is reckoned from the sieving."""
    lost = loss(sand)
    if lost is None or sand.sample_mass is None or abs(lost) <= LOSS_NOTED + 1e-9:
        return
    total, before = math.fsum(sand.retained) * 1000, sand.sample_mass * 1000
    word = "lost" if lost > 0 else "gained"
    yield Problem(
        field=f"{field}.retained",
        message=f"the sieves hold {total:g} g of a {before:g} g sample: {abs(lost) * 100:.1f} % {word}",
        hint=f"sieve it again; up to {LOSS_NOTED * 100:g} % is taken and told, nothing is scaled up",
    )


def _jar_and_bucket(field: str, sand: SandInput) -> Iterator[Problem]:
    grain = table_grain_density("sand")
    if sand.loose_density is not None and sand.loose_density > grain:
        message = f"{sand.name} weighs {sand.loose_density:.0f} kg/m3, its grains {grain:.0f} kg/m3"
        hint = "nothing loose weighs more than its grains: weigh a measured bucket again"
        yield Problem(field=f"{field}.loose_density", message=message, hint=hint)
    if sand.bulking is not None and not 1.0 <= sand.bulking <= 1.6:
        message = f"bulking of {sand.name} is {sand.bulking:g}"
        yield Problem(field=f"{field}.bulking", message=message, hint="damp over dry loose volume, from 1 to 1.6")
