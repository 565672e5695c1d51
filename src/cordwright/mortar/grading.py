"""How much of the sand passes each sieve, and how fine is it by the usual measures?

Passing is interpolated on the logarithm of the size between two sieves of the series; outside the series nothing is
known, except that all passes above a sieve all of it passed and none below one where none did.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cordwright.base import Cite, InputError
from cordwright.mortar.sand_inputs import SandInput

ASTM_SERIES: Final = (4.75e-3, 2.36e-3, 1.18e-3, 0.6e-3, 0.3e-3, 0.15e-3)
EN_SERIES: Final = (4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3, 0.125e-3)
INTERPOLATION: Final = Cite("log-size-interpolation")
LOSS_NOTED: Final = 0.02
"""Mass lost or gained in sieving up to which the test is taken, with a note (`sieve-loss-practice`) [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grading:
    """Share passing each sieve, widest first: `openings` [m], `passing` [1]."""

    openings: tuple[float, ...]
    passing: tuple[float, ...]

    def at(self, size: float) -> float | None:
        """Share finer than a size, None outside the series.

        Args:
            size: [m].
        """
        if size >= self.openings[0]:
            return self.passing[0] if size == self.openings[0] or self.passing[0] >= 1.0 else None
        if size < self.openings[-1]:
            return 0.0 if self.passing[-1] <= 0.0 else None
        for (wide, above), (tight, below) in pairwise(zip(self.openings, self.passing, strict=True)):
            if size >= tight:
                part: float = math.log(size / tight) / math.log(wide / tight)
                return below + (above - below) * part
        raise AssertionError("the series holds every size between its ends")

    def size(self, share: float) -> float | None:
        """Size that a share of the sand is finer than [m], None when the series does not reach it.

        Args:
            share: finer by mass [1].
        """
        for (wide, above), (tight, below) in pairwise(zip(self.openings, self.passing, strict=True)):
            if below <= share <= above and above > below:
                return float(tight * (wide / tight) ** ((share - below) / (above - below)))
        return None


def grading(sand: SandInput) -> Grading | None:
    """Passing curve of one sand: by what lay on the sieves, never by what was weighed in.

    Raises:
        InputError: nothing at all lay on the sieves.
    """
    if sand.passing:
        return Grading(openings=sand.openings, passing=sand.passing)
    if not sand.retained:
        return None
    total = math.fsum(sand.retained)
    if total <= 0:
        raise InputError(f"{sand.name}: nothing lay on the sieves")
    left = tuple(math.fsum(sand.retained[i + 1 :]) / total for i in range(len(sand.openings)))
    return Grading(openings=sand.openings, passing=left)


def loss(sand: SandInput) -> float | None:
    """Share of the sample that was not on the sieves afterwards (a gain is negative), None when not weighed before."""
    if sand.sample_mass is None or not sand.retained:
        return None
    return 1.0 - math.fsum(sand.retained) / sand.sample_mass


def fineness_modulus(curve: Grading, series: tuple[float, ...]) -> tuple[float, float] | None:
    """Least and largest fineness modulus that the sieving allows: sum of the shares retained on a series.

    They differ only when the widest sieve of the series is wider than any used and something lay on the widest used.

    Args:
        curve: the passing curve.
        series: openings [m].

    Sources: CRD-C 104-80, para 4.
    """
    found = [curve.at(size) for size in series]
    known = [1.0 - share for share in found if share is not None]
    blank = [size for size, share in zip(series, found, strict=True) if share is None]
    if any(size < curve.openings[0] for size in blank):
        return None
    return math.fsum(known), math.fsum(known) + len(blank) * (1.0 - curve.passing[0])


def interpolated(curve: Grading, series: tuple[float, ...]) -> bool:
    """Whether some opening of a series was not among the sieves used and had to be read between two."""
    return any(s not in curve.openings and s < curve.openings[0] for s in series)


def uniformity(curve: Grading) -> float | None:
    """Coefficient of uniformity D60 over D10 [1]."""
    d10, d60 = curve.size(0.1), curve.size(0.6)
    return None if d10 is None or d60 is None else d60 / d10


def curvature(curve: Grading) -> float | None:
    """Coefficient of curvature D30^2 / (D10 D60) [1]."""
    d10, d30, d60 = curve.size(0.1), curve.size(0.3), curve.size(0.6)
    return None if d10 is None or d30 is None or d60 is None else d30**2 / (d10 * d60)


def blend(curves: tuple[Grading, ...], shares: tuple[float, ...]) -> Grading:
    """Passing curve of sands mixed by mass, on every sieve where all of them are known.

    Args:
        curves: one for each sand.
        shares: by dry mass, summing to one; one for each sand [1].

    Raises:
        InputError: the sands share no range of sizes.
    """
    sizes = sorted({size for curve in curves for size in curve.openings}, reverse=True)
    rows = [(size, [curve.at(size) for curve in curves]) for size in sizes]
    whole = [(size, [p for p in row if p is not None]) for size, row in rows if None not in row]
    if not whole:
        raise InputError("the sieve series of these sands have no size in common")
    mixed = tuple(math.fsum(w * p for w, p in zip(shares, row, strict=True)) for _, row in whole)
    return Grading(openings=tuple(size for size, _ in whole), passing=mixed)
