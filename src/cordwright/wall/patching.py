"""How is one place of a panel worked on, so that the size of the panel does not matter?

A patch is cut out as a packing of its own with all spare logs, worked on, and pasted back.
"""

from dataclasses import dataclass, replace

import numpy as np

from cordwright.wall.packing import Ints, Packing
from cordwright.wall.region import Region


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """Part of a packing: `places` are its moving discs' places in the whole, `numbers` its stock's in the whole's."""

    packing: Packing
    places: Ints
    numbers: Ints


def cut(packing: Packing, x: float, y: float, reach: float) -> Patch:
    """Cut out all that stands within a square around a point.

    Args:
        packing: the whole.
        x: of the middle [m].
        y: of the middle [m].
        reach: half the square's side [m].
    """
    m = packing.moving
    near = np.flatnonzero((np.abs(packing.x - x) < reach) & (np.abs(packing.y - y) < reach))
    split = int(np.searchsorted(near, m))
    places, still = near[:split], near[split:] - m
    numbers = np.sort(np.concatenate((packing.spare, packing.which[places])))
    inner = Packing(
        region=_narrowed(packing.region, x, y, reach + 2.0 * float(packing.radius.max()) + 0.1),
        offset=packing.offset,
        joint_half=packing.joint_half,
        sizes=packing.sizes[numbers],
        x=packing.x[near],
        y=packing.y[near],
        which=np.searchsorted(numbers, packing.which[places]),
        still=packing.still[still],
        bears=packing.bears[still],
        rng=packing.rng,
        lean=packing.lean,
    )
    return Patch(packing=inner, places=places, numbers=numbers)


def paste(packing: Packing, patch: Patch) -> None:
    """Put a patch back where it was cut out; it must hold as many logs as before."""
    inner, m = patch.packing, len(patch.places)
    packing.x[patch.places], packing.y[patch.places] = inner.x[:m], inner.y[:m]
    packing.which[patch.places] = patch.numbers[inner.which]


def _narrowed(region: Region, x: float, y: float, margin: float) -> Region:
    """The region with only those edges and corners that come within a square."""
    edges, corners = region.edges, region.corners
    ends = edges[:, :2] + edges[:, 2:4] * edges[:, 4:5]
    low, high = np.minimum(edges[:, :2], ends), np.maximum(edges[:, :2], ends)
    middle = np.array([x, y])
    meet = np.all((low < middle + margin) & (high > middle - margin), axis=1)
    close = np.all(np.abs(corners - middle) < margin, axis=1)
    return replace(region, edges=edges[meet], corners=corners[close])
