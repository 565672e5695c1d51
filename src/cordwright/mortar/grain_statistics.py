"""How big are the grains on the whole, how much do they differ, and what is that called?

Sizes in phi = -log2(millimetres): a larger phi is a finer grain. The half-millimetre line of a pen is phi = 1, the
limit between coarse and medium sand.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cordwright.base import Cite
from cordwright.mortar.grading import Grading

CLASS_SOURCE: Final = Cite("wentworth-memory")
CLASSES: Final = (
    (256e-3, "boulders"),
    (64e-3, "cobbles"),
    (4e-3, "pebbles"),
    (2e-3, "granules"),
    (1e-3, "very coarse sand"),
    (0.5e-3, "coarse sand"),
    (0.25e-3, "medium sand"),
    (0.125e-3, "fine sand"),
    (0.0625e-3, "very fine sand"),
    (0.0039e-3, "silt"),
)
"""Udden-Wentworth: the smallest size of each class [m], clay below (`wentworth-memory`)."""

SORTING: Final = (
    (0.35, "very well sorted"),
    (0.5, "well sorted"),
    (0.71, "moderately well sorted"),
    (1.0, "moderately sorted"),
    (2.0, "poorly sorted"),
    (4.0, "very poorly sorted"),
)
SKEWNESS: Final = (
    (-0.3, "strongly coarse-skewed"),
    (-0.1, "coarse-skewed"),
    (0.1, "near symmetrical"),
    (0.3, "fine-skewed"),
)
KURTOSIS: Final = (
    (0.67, "very platykurtic"),
    (0.9, "platykurtic"),
    (1.11, "mesokurtic"),
    (1.5, "leptokurtic"),
    (3.0, "very leptokurtic"),
)


def phi(size: float) -> float:
    """Size of a grain in phi units.

    Args:
        size: [m].
    """
    return -math.log2(size * 1000)


def size_class(size: float) -> str:
    """Udden-Wentworth class of a size.

    Args:
        size: [m].

    Sources: the scale as remembered (`wentworth-memory`).
    """
    return next((name for least, name in CLASSES if size >= least), "clay")


def word(value: float, limits: Sequence[tuple[float, str]], beyond: str) -> str:
    """Word for a value: the first whose limit it does not reach [1]."""
    return next((name for limit, name in limits if value < limit), beyond)


@dataclass(frozen=True, slots=True, kw_only=True)
class FolkWard:
    """Graphic measures: `mean` and `sorting` [phi], `skewness` and `kurtosis` [1]; each with its word."""

    mean: float
    sorting: float
    skewness: float
    kurtosis: float

    @property
    def words(self) -> tuple[str, str, str, str]:
        """Size class of the mean, sorting, skewness and kurtosis in words."""
        return (
            size_class(2.0**-self.mean / 1000),
            word(self.sorting, SORTING, "extremely poorly sorted"),
            word(self.skewness, SKEWNESS, "strongly fine-skewed"),
            word(self.kurtosis, KURTOSIS, "extremely leptokurtic"),
        )


def folk_ward(  # noqa: PLR0917 - seven sizes in the order of the source
    p5: float, p16: float, p25: float, p50: float, p75: float, p84: float, p95: float
) -> FolkWard:
    """Graphic measures from seven sizes of the curve, counted from the coarse end.

    Args:
        p5: size with 5 % coarser [phi].
        p16: with 16 % coarser [phi].
        p25: with 25 % coarser [phi].
        p50: with half coarser [phi].
        p75: with 75 % coarser [phi].
        p84: with 84 % coarser [phi].
        p95: with 95 % coarser [phi].

    Sources: Coastal Engineering Manual, Part III-1, after Folk and Ward (`cem-sediment`).
    """
    return FolkWard(
        mean=(p16 + p50 + p84) / 3,
        sorting=(p84 - p16) / 4 + (p95 - p5) / 6.6,
        skewness=(p16 + p84 - 2 * p50) / (2 * (p84 - p16)) + (p5 + p95 - 2 * p50) / (2 * (p95 - p5)),
        kurtosis=(p95 - p5) / (2.44 * (p75 - p25)),
    )


def graphic_measures(curve: Grading) -> FolkWard | None:
    """Graphic measures of a passing curve, None when the sieves do not reach from 5 to 95 % or no grain differs."""
    sizes = [curve.size(1 - coarser) for coarser in (0.05, 0.16, 0.25, 0.5, 0.75, 0.84, 0.95)]
    known = [phi(size) for size in sizes if size is not None]
    if len(known) < len(sizes) or known[2] == known[4]:
        return None
    return folk_ward(*known)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moments:
    """Mean and standard deviation [phi], skewness and kurtosis [1]; divisor: the whole mass (a population)."""

    mean: float
    deviation: float
    skewness: float
    kurtosis: float


def moments(middles: Sequence[float], masses: Sequence[float]) -> Moments:
    """Moment statistics of binned masses, each bin taken at its middle, divided by the whole mass.

    Args:
        middles: of the bins, shape (n,) [phi].
        masses: in the bins, shape (n,) [any unit of mass].

    Sources: closed form (`grain-moments`).
    """
    total = math.fsum(masses)
    pairs = tuple(zip(middles, masses, strict=True))
    mean = math.fsum(m * x for x, m in pairs) / total
    second, third, fourth = (math.fsum(m * (x - mean) ** k for x, m in pairs) / total for k in (2, 3, 4))
    spread = math.sqrt(second)
    if spread == 0:
        return Moments(mean=mean, deviation=0.0, skewness=0.0, kurtosis=0.0)
    return Moments(mean=mean, deviation=spread, skewness=third / spread**3, kurtosis=fourth / spread**4)


def curve_moments(curve: Grading) -> tuple[Moments, float] | None:
    """Moments of the grains between the widest and the finest sieve, with the share of the sand they leave out."""
    steps = tuple(pairwise(zip(curve.openings, curve.passing, strict=True)))
    middles = [(phi(wide) + phi(tight)) / 2 for (wide, _), (tight, _) in steps]
    masses = [above - below for (_, above), (_, below) in steps]
    inside = math.fsum(masses)
    return (moments(middles, masses), 1 - inside) if inside > 0 else None


def specific_surface(curve: Grading, grain_density: float) -> tuple[float, float]:
    """Least and largest surface of the grains over the sand's mass [m2/kg], taken as balls.

    Grains between two sieves may all be as wide as the upper or as the lower opening; those on the widest sieve may
    have next to no surface. What went through the finest sieve is left out, for no sieve limits its surface.

    Args:
        curve: the passing curve.
        grain_density: [kg/m3].

    Sources: closed form, surface of a ball over its mass, 6 / (density x diameter) (`ball-surface`).
    """
    steps = tuple(pairwise(zip(curve.openings, curve.passing, strict=True)))
    scale = 6 / grain_density
    least = math.fsum((above - below) / wide for (wide, above), (_, below) in steps)
    most = math.fsum((above - below) / tight for (_, above), (tight, below) in steps)
    return scale * least, scale * (most + (1 - curve.passing[0]) / curve.openings[0])
