"""Other ways to lay the same logs: poured, in courses, relaxed without exchange; each gives its share of discs.

All work with inflated radii (half a joint more) in the same wall, and count only logs that fit.
"""

import math
import time
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.spatial import cKDTree

from cordwright.wall.layout import Face, Log
from layout_walls import JOINT, net_area

Floats = NDArray[np.float64]
HOLDS = 1e-3
"""Overlaps under a millimetre count as none in the relaxation without exchange [m]: kinder to it than to ours."""

FRICTIONS = (0.1, 0.4)
"""Slippery, and roughly wood on wood: the less friction, the denser the pour."""


def radii(logs: Sequence[Log]) -> Floats:
    """Radii with half a joint [m]."""
    return np.array([log.diameter / 2 + JOINT / 2 for log in logs])


def share(face: Face, sizes: Floats) -> float:
    """Part of the wall's net area that discs fill."""
    return float(math.pi * np.sum(sizes**2)) / net_area(face)


def _box(ring: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    return ring[0][0], ring[0][1], ring[2][0], ring[2][1]


def courses(face: Face, logs: Sequence[Log], *, by_size: bool, seed: int) -> float:
    """Level courses from the left, each as high as its largest log; logs that would meet an opening start beyond it."""
    sizes = radii(logs)
    sizes = np.sort(sizes) if by_size else np.random.Generator(np.random.PCG64(seed)).permutation(sizes)
    _, _, width, height = _box(face.outline)
    holes = [_box(hole.outline) for hole in face.openings]
    placed, x, y, row = [], 0.0, 0.0, 0.0
    for r in sizes.tolist():
        x = _beyond(x, y, r, holes)
        if x + 2 * r > width:
            x, y, row = 0.0, y + row, 0.0
            x = _beyond(x, y, r, holes)
        if y + 2 * r > height:
            break
        if x + 2 * r <= width:
            placed.append(r)
            x, row = x + 2 * r, max(row, 2 * r)
    return share(face, np.array(placed))


def _beyond(x: float, y: float, r: float, holes: Sequence[tuple[float, float, float, float]]) -> float:
    for left, bottom, right, top in sorted(holes):
        if x < right and x + 2 * r > left and y < top and y + 2 * r > bottom:
            x = right
    return x


def poured(face: Face, logs: Sequence[Log], seed: int, friction: float) -> float:
    """Discs poured into the wall by a physics engine, ten at a time; those inside the outline in the end count."""
    import pymunk

    space = pymunk.Space()
    space.gravity, space.iterations, space.collision_slop = (0.0, -9.81), 30, 1e-4
    left, bottom, right, top = _box(face.outline)
    rings = [((left, top + 3), (left, bottom), (right, bottom), (right, top + 3))]
    rings += [(*hole.outline, hole.outline[0]) for hole in face.openings]
    for ring in rings:
        for a, b in pairwise(ring):
            space.add(pymunk.Segment(space.static_body, a, b, 0.0))
    for hole in face.openings:
        space.add(pymunk.Poly(space.static_body, list(hole.outline)))
    rng = np.random.Generator(np.random.PCG64(seed))
    bodies: list[tuple[pymunk.Body, float]] = []
    for n, r in enumerate(rng.permutation(radii(logs)).tolist()):
        body = pymunk.Body(r * r, r**4 / 2)
        body.position = (float(rng.uniform(left + r, right - r)), top + 0.4 + 0.35 * (n % 4))
        disc = pymunk.Circle(body, r)
        disc.friction = friction
        space.add(body, disc)
        bodies.append((body, r))
        if n % 10 == 9:
            _step(space, 60)
    _step(space, 1200)
    inside = [r for body, r in bodies if left < body.position.x < right and body.position.y + r <= top + 6e-4]
    return share(face, np.array(inside))


def _step(space: object, steps: int) -> None:
    for _ in range(steps):
        space.step(1 / 240)  # type: ignore[attr-defined]


def relaxed(face: Face, logs: Sequence[Log], seed: int) -> tuple[float, float]:
    """Soft discs in a plain wall by L-BFGS, no sizes exchanged: densest share on a grid that holds, and CPU seconds."""
    started, best = time.process_time(), 0.0
    rng = np.random.Generator(np.random.PCG64(seed))
    for phi in np.arange(0.80, 0.90, 0.02):
        sizes = rng.permutation(radii(logs))
        sizes = sizes[: int(np.searchsorted(np.cumsum(math.pi * sizes**2), phi * net_area(face)))]
        if not _settles(face, sizes, rng):
            break
        best = share(face, sizes)
    return best, time.process_time() - started


def _settles(face: Face, sizes: Floats, rng: np.random.Generator) -> bool:
    left, bottom, right, top = _box(face.outline)
    n = np.arange(1.0, len(sizes) + 1)
    start = rng.random(2)
    x = left + (right - left) * np.mod(start[0] + n / 1.32471795724474602596, 1.0)
    y = bottom + (top - bottom) * np.mod(start[1] + n / 1.32471795724474602596**2, 1.0)
    place = np.concatenate((x, y))
    for _ in range(12):
        energy = _Energy(sizes, _pairs(place, sizes), (left, bottom, right, top))
        place = minimize(energy, place, jac=True, method="L-BFGS-B", options={"maxiter": 150, "ftol": 1e-14}).x
        if _Energy(sizes, _pairs(place, sizes), (left, bottom, right, top)).deepest(place) <= HOLDS:
            return True
    return False


def _pairs(place: Floats, sizes: Floats) -> NDArray[np.int64]:
    return cKDTree(place.reshape(2, -1).T).query_pairs(2 * float(sizes.max()) + 0.04, output_type="ndarray")


class _Energy:
    """Half the sum of squared overlaps, and its slope."""

    def __init__(self, sizes: Floats, pairs: NDArray[np.int64], sides: tuple[float, float, float, float]) -> None:
        self.sizes, self.i, self.k, self.sides = sizes, pairs[:, 0], pairs[:, 1], sides

    def _overlaps(self, place: Floats) -> tuple[Floats, Floats, Floats, Floats, list[Floats]]:
        x, y = place.reshape(2, -1)
        dx, dy = x[self.i] - x[self.k], y[self.i] - y[self.k]
        apart = np.hypot(dx, dy) + 1e-12
        left, bottom, right, top = self.sides
        walls = [left + self.sizes - x, x + self.sizes - right, bottom + self.sizes - y, y + self.sizes - top]
        over = np.maximum(self.sizes[self.i] + self.sizes[self.k] - apart, 0.0)
        return dx, dy, apart, over, [np.maximum(w, 0.0) for w in walls]

    def deepest(self, place: Floats) -> float:
        """Deepest overlap [m]."""
        *_, over, walls = self._overlaps(place)
        return float(max(over.max(initial=0.0), *(w.max() for w in walls)))

    def __call__(self, place: Floats) -> tuple[float, Floats]:
        """Energy and slope."""
        dx, dy, apart, over, walls = self._overlaps(place)
        n = len(self.sizes)
        push = -over / apart
        gx = np.bincount(self.i, push * dx, n) - np.bincount(self.k, push * dx, n) - walls[0] + walls[1]
        gy = np.bincount(self.i, push * dy, n) - np.bincount(self.k, push * dy, n) - walls[2] + walls[3]
        energy = 0.5 * (float(np.sum(over**2)) + sum(float(np.sum(w**2)) for w in walls))
        return 1e4 * energy, 1e4 * np.concatenate((gx, gy))
