"""How is heat in a laid panel balanced, column by column, without ever writing down a matrix?

Cells stand in arrays [row, parity, depth, half] with a ghost rim: a cell of column x lies at parity x % 2 and half
x // 2 + 1, so that all cells of one colour of the chessboard are contiguous. Depth is never coarsened; coefficients are
two-dimensional maps, one for each kind of layer (`lay`) and each kind of face in depth (`pat`), times a number of the
depth alone (`thick`, `scale`). Storage is single precision, sums are double.

Work on one colour of one row goes through short loops over few arrays, indexed in place: more arrays in a loop keep the
compiler from vector code, and slices cost more than the loop itself.
"""

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import fused_kernel, kernel, part
from cordwright.base.lanes import LANES, Lanes, give, lanes_of, summed, take

F32 = NDArray[np.float32]
F64 = NDArray[np.float64]
I64 = NDArray[np.int64]


@part
def _beside(v: F32, gx: F32, gy: F32, y: int, p: int, k: int, m: int, i: int) -> Lanes:
    """Heat that the four neighbours in the layer give to cells of one colour of a row, for unit thickness."""
    level = take(gx, (y, 1 - p, m, i + p)) * take(v, (y, 1 - p, k, i + p))
    level = level + take(gx, (y, p, m, i + 1)) * take(v, (y, 1 - p, k, i + 1 + p))
    upright = take(gy, (y - 1, p, m, i + 1)) * take(v, (y - 1, p, k, i + 1))
    given: Lanes = level + upright + take(gy, (y, p, m, i + 1)) * take(v, (y + 1, p, k, i + 1))
    return given


@fused_kernel
def _down(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, y: int, p: int, alone: bool,
) -> None:  # fmt: skip
    """Eliminate down the columns of one colour of a row: v is then still short of what comes back from below."""
    for k in range(thick.size):
        m, pt, before, d = lay[k], pat[k], max(k - 1, 0), thick[k]
        s = scale[k] if k > 0 else np.float32(0.0)
        for i in range(0, v.shape[3] - 2, LANES):
            given = take(b, (y, p, k, i + 1)) + s * take(cz, (y, p, pt, i + 1)) * take(v, (y, p, before, i + 1))
            if not alone:
                given = given + d * _beside(v, gx, gy, y, p, k, m, i)
            give(v, (y, p, k, i + 1), take(pivot, (y, p, k, i + 1)) * given)


@fused_kernel
def _line(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, y: int, p: int, alone: bool,
) -> float:  # fmt: skip
    """Solve all columns of one colour of a row for their depth, their neighbours held (`alone`: at zero).

    Returns:
        the sum of v times b over them.
    """
    _down(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y, p, alone)
    product, last = lanes_of(0.0), thick.size - 1
    for k in range(last, -1, -1):
        pt, after = pat[k + 1], min(k + 1, last)
        s = scale[k + 1] if k < last else np.float32(0.0)
        for i in range(0, v.shape[3] - 2, LANES):
            back = take(pivot, (y, p, k, i + 1)) * take(cz, (y, p, pt, i + 1)) * take(v, (y, p, after, i + 1))
            found: Lanes = take(v, (y, p, k, i + 1)) + s * back
            give(v, (y, p, k, i + 1), found)
            product = product + found * take(b, (y, p, k, i + 1))
    return summed(product)


@fused_kernel
def make_pivots(
    pivot: F32, gx: F32, gy: F32, cz: F32, own: F32, lay: I64, thick: F32, pat: I64, scale: F32, depth: int
) -> None:
    """The inverse pivots of every column's elimination in depth, 0 where there is no material."""
    rows, halves = pivot.shape[0] - 2, pivot.shape[3] - 2
    side = np.zeros((own.shape[2], halves), np.float32)
    before = np.zeros(halves, np.float32)
    for y in range(1, rows + 1):
        for p in range(2):
            for m in range(own.shape[2]):
                for i in range(halves):
                    side[m, i] = gx[y, 1 - p, m, i + p] + gx[y, p, m, i + 1] + own[y, p, m, i + 1]
                for i in range(halves):
                    side[m, i] += gy[y - 1, p, m, i + 1] + gy[y, p, m, i + 1]
            for i in range(halves):
                before[i] = 0.0
            for k in range(depth):
                m, pt, after = lay[k], pat[k], pat[k + 1]
                for i in range(halves):
                    c = scale[k] * cz[y, p, pt, i + 1]
                    d = thick[k] * side[m, i] + c + scale[k + 1] * cz[y, p, after, i + 1]
                    if k > 0:
                        d -= c * c * before[i]
                    before[i] = np.float32(1.0) / d if d > np.float32(1e-30) else np.float32(0.0)
                    pivot[y, p, k, i + 1] = before[i]


@fused_kernel
def _lacking(parts: F32, v: F32, gx: F32, gy: F32, wx: F32, wy: F32, lay: I64, thick: F32, fine: int) -> None:
    """What the red cells of a row lack, shared out: own coarse cell, beside it, above or below it, and across."""
    p, slot = fine % 2, fine % 4
    for k in range(thick.size):
        m, d = lay[k], thick[k]
        for i in range(0, v.shape[3] - 2, LANES):
            r = d * _beside(v, gx, gy, fine + 1, p, k, m, i)
            upright = take(wy, (fine + 1, m, i))
            level = take(wx, (fine + 1, m, i)) * r
            across = upright * level
            away = upright * r
            give(parts, (slot, 0, k, i + 1), r - away - level + across)
            give(parts, (slot, 1, k, i + 1), level - across)
            give(parts, (slot, 2, k, i + 1), away - across)
            give(parts, (slot, 3, k, i + 1), across)


@fused_kernel
def _gather(coarse: F32, parts: F32, row: F32, place: int, depth: int, above: bool) -> None:
    """One coarse row from the fine rows it holds (2 place, 2 place + 1) and the nearer ones of its neighbours."""
    n = row.size
    low, high = (2 * place) % 4, (2 * place + 1) % 4
    under, over = (2 * place - 1) % 4, (2 * place + 2) % 4
    for k in range(depth):
        for i in range(0, n, LANES):
            inner = take(parts, (low, 0, k, i + 1)) + take(parts, (low, 1, k, i + 2))
            inner = inner + take(parts, (high, 0, k, i + 1)) + take(parts, (high, 1, k, i))
            inner = inner + take(parts, (under, 2, k, i + 1)) + take(parts, (under, 3, k, i))
            if above:
                inner = inner + take(parts, (over, 2, k, i + 1)) + take(parts, (over, 3, k, i + 2))
            give(row, (i,), inner)
        for i in range(n // 2):
            coarse[place + 1, 0, k, i + 1] = row[2 * i]
            coarse[place + 1, 1, k, i + 1] = row[2 * i + 1]


@fused_kernel
def descend(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32, wx: F32, wy: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, coarse: F32,
) -> None:  # fmt: skip
    """From a guess of zero: red columns, black columns, and what is then lacking handed to the coarse grid.

    After the black columns are solved nothing is lacking in them, and in the red ones only what the black ones give.
    """
    rows, halves, depth = v.shape[0] - 2, v.shape[3] - 2, thick.size
    row = np.zeros(halves, np.float32)
    parts = np.zeros((4, 4, depth, halves + 2), np.float32)
    for y in range(1, rows + 3):
        if y <= rows:
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y, (y - 1) % 2, True)
        if 2 <= y <= rows + 1:
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y - 1, (y - 1) % 2, False)
        fine = y - 3  # the row, counted from 0, whose red cells are told of
        if fine < 0:
            continue
        _lacking(parts, v, gx, gy, wx, wy, lay, thick, fine)
        if fine % 2 == 0 and fine > 0:
            _gather(coarse, parts, row, fine // 2 - 1, depth, True)
        if fine == rows - 1:
            if fine % 2 == 0:
                parts[(fine + 1) % 4] = 0.0
            _gather(coarse, parts, row, fine // 2, depth, False)


@fused_kernel
def _bring(lines: F32, coarse: F32, place: int, depth: int, n: int) -> None:
    """A coarse row out of its two parities, into its place among the three at hand."""
    slot = place % 3
    for k in range(depth):
        for i in range(n // 2):
            lines[slot, k, 2 * i + 1] = coarse[place + 1, 0, k, i + 1]
            lines[slot, k, 2 * i + 2] = coarse[place + 1, 1, k, i + 1]


@fused_kernel
def _correct(v: F32, lines: F32, wx: F32, wy: F32, lay: I64, fine: int, near: int, far: int) -> None:
    """Add the coarse answer to the red cells of a row, by what leads better."""
    p, y = fine % 2, fine + 1
    for k in range(lay.size):
        m = lay[k]
        for i in range(0, v.shape[3] - 2, LANES):
            w = take(wx, (y, m, i))
            own, away = take(lines, (near, k, i + 1)), take(lines, (far, k, i + 1))
            own = own + w * (take(lines, (near, k, i + 2 * p)) - own)
            away = away + w * (take(lines, (far, k, i + 2 * p)) - away)
            give(v, (y, p, k, i + 1), take(v, (y, p, k, i + 1)) + own + take(wy, (y, m, i)) * (away - own))


@fused_kernel
def ascend(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32, wx: F32, wy: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, coarse: F32,
) -> float:  # fmt: skip
    """Bring the coarse answer back, then black columns, then red: the way down in reverse.

    Returns:
        the sum of v times b.
    """
    rows, halves, depth = v.shape[0] - 2, v.shape[3] - 2, thick.size
    product = 0.0
    lines = np.zeros((3, depth, halves + 2), np.float32)
    _bring(lines, coarse, 0, depth, halves)
    for y in range(1, rows + 3):
        if y <= rows:
            fine = y - 1
            own = fine // 2
            far = own + 1 if fine % 2 else own - 1
            if fine % 2 and far < coarse.shape[0] - 2:
                _bring(lines, coarse, far, depth, halves)
            _correct(v, lines, wx, wy, lay, fine, own % 3, far % 3)
        if 2 <= y <= rows + 1:
            product += _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y - 1, (y - 1) % 2, False)
        if y >= 3:
            product += _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y - 2, (y - 3) % 2, False)
    return product


@fused_kernel
def bottom(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32, lay: I64, thick: F32, pat: I64, scale: F32, sweeps: int
) -> None:
    """The coarsest grid, from zero, by sweeps there and back so that the whole stays symmetric."""
    v[:] = 0.0
    for turn in range(4 * sweeps):
        there = turn < 2 * sweeps
        colour = turn % 2 if there else 1 - turn % 2
        for y in range(1, v.shape[0] - 1):
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y, (y - 1 + colour) % 2, False)


@fused_kernel
def _ahead(p: F32, z: F32, keep: np.float32, y: int) -> None:
    """The next direction of a row."""
    for side in range(2):
        for k in range(p.shape[2]):
            for i in range(1, p.shape[3] - 1, LANES):
                give(p, (y, side, k, i), take(z, (y, side, k, i)) + keep * take(p, (y, side, k, i)))


@part
def _aside(p: F32, gx: F32, gy: F32, here: Lanes, y: int, s: int, k: int, m: int, i: int) -> Lanes:
    """Heat that leaves cells of one colour of a row within the layer, for unit thickness."""
    level = take(gx, (y, 1 - s, m, i + s)) * (here - take(p, (y, 1 - s, k, i + s)))
    level = level + take(gx, (y, s, m, i + 1)) * (here - take(p, (y, 1 - s, k, i + 1 + s)))
    upright = take(gy, (y - 1, s, m, i + 1)) * (here - take(p, (y - 1, s, k, i + 1)))
    return level + upright + take(gy, (y, s, m, i + 1)) * (here - take(p, (y + 1, s, k, i + 1)))


@fused_kernel
def _balance(
    q: F32, p: F32, gx: F32, gy: F32, cz: F32, own: F32, lay: I64, thick: F32, pat: I64, scale: F32,
    y: int, s: int, held: bool,
) -> float:  # fmt: skip
    """Heat that leaves every cell of one colour of a row, into q; gives the sum of p times q over them."""
    total, last = lanes_of(0.0), thick.size - 1
    one, none = np.float32(1.0), np.float32(0.0)
    for k in range(thick.size):
        m, d, pt, pu, over, under = lay[k], thick[k], pat[k], pat[k + 1], max(k - 1, 0), min(k + 1, last)
        so, su = scale[k], scale[k + 1]
        a, z = one if k > 0 else none, one if k < last else none  # beyond the ends lies air, at a temperature of 0
        for i in range(0, p.shape[3] - 2, LANES):
            here = take(p, (y, s, k, i + 1))
            aside = _aside(p, gx, gy, here, y, s, k, m, i)
            if held:
                aside = aside + take(own, (y, s, m, i + 1)) * here
            out = so * take(cz, (y, s, pt, i + 1)) * (here - a * take(p, (y, s, over, i + 1)))
            out = out + su * take(cz, (y, s, pu, i + 1)) * (here - z * take(p, (y, s, under, i + 1)))
            out = out + d * aside
            give(q, (y, s, k, i + 1), out)
            total = total + out * here
    return summed(total)


@fused_kernel
def direction(
    p: F32, z: F32, beta: float, gx: F32, gy: F32, cz: F32, own: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, held: bool,
) -> float:  # fmt: skip
    """Next direction p = z + beta p and, in the place of z, the heat A p that leaves each cell for it.

    Returns:
        the sum of p times A p.
    """
    rows, keep, product = p.shape[0] - 2, np.float32(beta), 0.0
    for y in range(1, rows + 2):
        if y <= rows:
            _ahead(p, z, keep, y)
        if y >= 2:
            for s in range(2):
                product += _balance(z, p, gx, gy, cz, own, lay, thick, pat, scale, y - 1, s, held)
    return product


@fused_kernel
def advance(x: F32, r: F32, p: F32, q: F32, alpha: float) -> float:
    """Step along p: x += alpha p, r -= alpha q.

    Returns:
        the sum of squares of r.
    """
    step, square = np.float32(alpha), 0.0
    for y in range(1, x.shape[0] - 1):
        for s in range(2):
            total = lanes_of(0.0)
            for k in range(x.shape[2]):
                for i in range(1, x.shape[3] - 1, LANES):
                    give(x, (y, s, k, i), take(x, (y, s, k, i)) + step * take(p, (y, s, k, i)))
                    left = take(r, (y, s, k, i)) - step * take(q, (y, s, k, i))
                    give(r, (y, s, k, i), left)
                    total = total + left * left
            square += summed(total)
    return square


@kernel
def _strip(x: float, h: float, r: float) -> float:
    """Area from the middle of a disc to x that lies between its axis and a line h above it (both signed alike)."""
    reach = min(abs(x), r)
    height = min(abs(h), r)
    edge = np.sqrt(max(0.0, r * r - height * height))
    if reach <= edge:
        area = reach * height
    else:
        to = 0.5 * (reach * np.sqrt(max(0.0, r * r - reach * reach)) + r * r * np.arcsin(min(1.0, reach / r)))
        back = 0.5 * (edge * height + r * r * np.arcsin(min(1.0, edge / r)))
        area = edge * height + to - back
    area = area if h >= 0 else -area
    return area if x >= 0 else -area


@kernel
def disc_in_cell(x0: float, x1: float, y0: float, y1: float, r: float) -> float:
    """Area that a disc about the origin and an upright rectangle share; closed form."""
    return _strip(x1, y1, r) - _strip(x0, y1, r) - _strip(x1, y0, r) + _strip(x0, y0, r)


@kernel
def cover_discs(
    share: F64, along: F64, across: F64, flow: F64, xe: F64, ye: F64,
    x: F64, y: F64, radius: F64, k_along: F64, k_across: F64,
) -> None:  # fmt: skip
    """Add every disc to the cells it covers: its share, what it leads along and across, and 1 / across."""
    rows, columns = share.shape
    for d in range(x.size):
        r = radius[d]
        first = max(0, np.searchsorted(xe, x[d] - r) - 1)
        last = min(columns, np.searchsorted(xe, x[d] + r))
        low = max(0, np.searchsorted(ye, y[d] - r) - 1)
        high = min(rows, np.searchsorted(ye, y[d] + r))
        for j in range(low, high):
            y0, y1 = ye[j] - y[d], ye[j + 1] - y[d]
            for i in range(first, last):
                x0, x1 = xe[i] - x[d], xe[i + 1] - x[d]
                far = max(x0 * x0, x1 * x1) + max(y0 * y0, y1 * y1)
                f = 1.0 if far <= r * r else disc_in_cell(x0, x1, y0, y1, r) / ((x1 - x0) * (y1 - y0))
                share[j, i] += f
                along[j, i] += f * k_along[d]
                across[j, i] += f * k_across[d]
                flow[j, i] += f / k_across[d]
