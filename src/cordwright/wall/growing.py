"""How does a full panel become fuller still, place by place, in time that grows as the panel does?

A patch of a few dozen logs is cut out, all around it standing still; one of its logs gives way to a slightly larger
spare, or a spare is put into its widest gap; sizes are exchanged and the patch is pressed. The patch is pasted back when
every joint holds and it is fuller than before.

Sources: Kim and Hilgenfeldt 2024 (swaps in over-full packings).
"""

import math
from dataclasses import replace

import numpy as np

from cordwright.wall import region as regions
from cordwright.wall import packing as packings
from cordwright.wall.packing import TOLERANCE, Effort, Floats, Packing
from cordwright.wall.patching import Patch, cut_free, put_in

REACH = 2.6
"""How far the free logs of a patch stand from its middle, in mean inflated diameters."""

MIXES = 40
BLUR = 0.0015
GAIN = 0.006
TRIES = 1.0

STAT = {"tries": 0, "hits": 0}


def grow(packing: Packing, effort: Effort, spread: float) -> None:
    """Make a packing fuller, patch by patch."""
    if not packing.moving or not len(packing.spare):
        return
    reach = REACH * 2.0 * float(np.mean(packing.sizes[packing.which]))
    gain = GAIN
    for _ in range(int(TRIES * packing.moving)):
        i = int(packing.rng.integers(packing.moving))
        hit = _attempt(packing, effort, spread, (float(packing.x[i]), float(packing.y[i])), reach, gain)
        STAT["tries"] += 1
        STAT["hits"] += hit
        gain = min(0.03, gain * 1.15) if hit else max(0.0005, gain * 0.965)
        packing.pulse(0.5)


def _attempt(
    packing: Packing, effort: Effort, spread: float, spot: tuple[float, float], reach: float, gain: float
) -> bool:
    patch = cut_free(packing, *spot, reach)
    inner = patch.packing
    before = inner.filled
    if not _fatten_some(inner, gain * before):
        return False
    packings.press(inner, effort, effort.between * MIXES, BLUR, spread)
    worst, _ = packings.ease(inner, 1000)
    if worst > TOLERANCE or inner.filled <= before or not _stayed(inner, spot, reach):
        return False
    put_in(packing, patch)
    return True


def _fatten_some(inner: Packing, gain: float) -> bool:
    """Give one log's place to a larger spare that has at most so much more area [m2]."""
    spare = inner.spare
    area = math.pi * inner.sizes**2
    for i in inner.rng.permutation(inner.moving)[:6]:
        mine = area[inner.which[i]]
        fit = spare[(area[spare] > mine + 0.2 * gain) & (area[spare] <= mine + gain)]
        if len(fit):
            inner.which[i] = int(inner.rng.choice(fit))
            return True
    return False


def _stayed(inner: Packing, spot: tuple[float, float], reach: float) -> bool:
    x, y = inner.x[: inner.moving], inner.y[: inner.moving]
    near = (np.abs(x - spot[0]) < reach + 0.05) & (np.abs(y - spot[1]) < reach + 0.05)
    return bool(near.all()) and bool(regions.contains(inner.region, x, y).all())
