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

from cordwright.base.kernel import fused_kernel, kernel

F32 = NDArray[np.float32]
F64 = NDArray[np.float64]
I64 = NDArray[np.int64]


@fused_kernel
def _beside(total: F32, v: F32, gx: F32, gy: F32, y: int, p: int, k: int, m: int) -> None:
    """Heat that the four neighbours in the layer give one colour of a row, for a cell of unit thickness."""
    n = total.size
    if p == 0:
        for i in range(n):
            total[i] = gx[y, 1, m, i] * v[y, 1, k, i] + gx[y, 0, m, i + 1] * v[y, 1, k, i + 1]
    else:
        for i in range(n):
            total[i] = gx[y, 0, m, i + 1] * v[y, 0, k, i + 1] + gx[y, 1, m, i + 1] * v[y, 0, k, i + 2]
    for i in range(n):
        total[i] += gy[y - 1, p, m, i + 1] * v[y - 1, p, k, i + 1] + gy[y, p, m, i + 1] * v[y + 1, p, k, i + 1]


@fused_kernel
def _eliminate(
    v: F32, b: F32, pivot: F32, cz: F32, total: F32, y: int, p: int, k: int, thick: float, pt: int, scale: float
) -> None:
    """One step down a column: what stands in v afterwards is still short of what comes back from below."""
    n = total.size
    if k == 0:
        for i in range(n):
            v[y, p, 0, i + 1] = pivot[y, p, 0, i + 1] * (b[y, p, 0, i + 1] + thick * total[i])
    else:
        for i in range(n):
            v[y, p, k, i + 1] = pivot[y, p, k, i + 1] * (
                b[y, p, k, i + 1] + thick * total[i] + scale * cz[y, p, pt, i + 1] * v[y, p, k - 1, i + 1]
            )


@fused_kernel
def _line(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, y: int, p: int, total: F32, alone: bool,
) -> None:  # fmt: skip
    """Solve all columns of one colour of a row for their depth, their neighbours held (`alone`: at zero)."""
    n, depth = total.size, thick.size
    for i in range(n):
        total[i] = 0.0
    for k in range(depth):
        if not alone:
            _beside(total, v, gx, gy, y, p, k, lay[k])
        _eliminate(v, b, pivot, cz, total, y, p, k, thick[k], pat[k], scale[k])
    for k in range(depth - 2, -1, -1):
        pt, s = pat[k + 1], scale[k + 1]
        for i in range(n):
            v[y, p, k, i + 1] += pivot[y, p, k, i + 1] * (s * cz[y, p, pt, i + 1]) * v[y, p, k + 1, i + 1]


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
def _lacking(
    parts: F32, v: F32, gx: F32, gy: F32, wx: F32, wy: F32, lay: I64, thick: F32, fine: int, total: F32
) -> None:
    """What the red cells of a row lack, shared out: own coarse cell, beside it, above or below it, and across."""
    n, p, slot = total.size, fine % 2, fine % 4
    for k in range(thick.size):
        m, d = lay[k], thick[k]
        _beside(total, v, gx, gy, fine + 1, p, k, m)
        for i in range(n):
            r = d * total[i]
            a = wx[fine + 1, m, i] * r
            both = wy[fine + 1, m, i] * a
            parts[slot, 1, k, i + 1] = a - both
            parts[slot, 3, k, i + 1] = both
        for i in range(n):
            r = d * total[i]
            up = wy[fine + 1, m, i] * r
            parts[slot, 2, k, i + 1] = up - parts[slot, 3, k, i + 1]
            parts[slot, 0, k, i + 1] = r - up - parts[slot, 1, k, i + 1]


@fused_kernel
def _gather(coarse: F32, parts: F32, row: F32, place: int, depth: int, above: bool) -> None:
    """One coarse row from the fine rows it holds (2 place, 2 place + 1) and the nearer ones of its neighbours."""
    n = row.size
    low, high = (2 * place) % 4, (2 * place + 1) % 4
    under, over = (2 * place - 1) % 4, (2 * place + 2) % 4
    for k in range(depth):
        for i in range(n):
            row[i] = parts[low, 0, k, i + 1] + parts[low, 1, k, i + 2] + parts[high, 0, k, i + 1] + parts[high, 1, k, i]
        for i in range(n):
            row[i] += parts[under, 2, k, i + 1] + parts[under, 3, k, i]
        if above:
            for i in range(n):
                row[i] += parts[over, 2, k, i + 1] + parts[over, 3, k, i + 2]
        for i in range((n + 1) // 2):
            coarse[place + 1, 0, k, i + 1] = row[2 * i]
        for i in range(n // 2):
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
    total, row = np.zeros(halves, np.float32), np.zeros(halves, np.float32)
    parts = np.zeros((4, 4, depth, halves + 2), np.float32)
    for y in range(1, rows + 3):
        if y <= rows:
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y, (y - 1) % 2, total, True)
        if 2 <= y <= rows + 1:
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y - 1, (y - 1) % 2, total, False)
        fine = y - 3  # the row, counted from 0, whose red cells are told of
        if fine < 0:
            continue
        _lacking(parts, v, gx, gy, wx, wy, lay, thick, fine, total)
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
        for i in range((n + 1) // 2):
            lines[slot, k, 2 * i + 1] = coarse[place + 1, 0, k, i + 1]
        for i in range(n // 2):
            lines[slot, k, 2 * i + 2] = coarse[place + 1, 1, k, i + 1]


@fused_kernel
def _correct(v: F32, lines: F32, wx: F32, wy: F32, lay: I64, fine: int, near: int, far: int, row: F32) -> None:
    """Add the coarse answer to the red cells of a row, by what leads better."""
    n, p, y = row.size, fine % 2, fine + 1
    for k in range(lay.size):
        m = lay[k]
        if p == 0:
            for i in range(n):
                w = wx[y, m, i]
                own = lines[near, k, i + 1] + w * (lines[near, k, i] - lines[near, k, i + 1])
                row[i] = lines[far, k, i + 1] + w * (lines[far, k, i] - lines[far, k, i + 1]) - own
                v[y, 0, k, i + 1] += own
        else:
            for i in range(n):
                w = wx[y, m, i]
                own = lines[near, k, i + 1] + w * (lines[near, k, i + 2] - lines[near, k, i + 1])
                row[i] = lines[far, k, i + 1] + w * (lines[far, k, i + 2] - lines[far, k, i + 1]) - own
                v[y, 1, k, i + 1] += own
        for i in range(n):
            v[y, p, k, i + 1] += wy[y, m, i] * row[i]


@fused_kernel
def _product(summed: F64, a: F32, b: F32, y: int, p: int, depth: int) -> None:
    """Add up a times b over one colour of a row, in double precision."""
    for k in range(depth):
        for i in range(summed.size):
            summed[i] += np.float64(a[y, p, k, i + 1]) * np.float64(b[y, p, k, i + 1])


@fused_kernel
def ascend(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32, wx: F32, wy: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, coarse: F32, counted: bool,
) -> float:  # fmt: skip
    """Bring the coarse answer back, then black columns, then red: the way down in reverse.

    Returns:
        the sum of v times b where it is asked for (`counted`), else 0.
    """
    rows, halves, depth = v.shape[0] - 2, v.shape[3] - 2, thick.size
    total, summed = np.zeros(halves, np.float32), np.zeros(halves, np.float64)
    lines = np.zeros((3, depth, halves + 2), np.float32)
    _bring(lines, coarse, 0, depth, halves)
    for y in range(1, rows + 3):
        if y <= rows:
            fine = y - 1
            own = fine // 2
            far = own + 1 if fine % 2 else own - 1
            if fine % 2 and far < coarse.shape[0] - 2:
                _bring(lines, coarse, far, depth, halves)
            _correct(v, lines, wx, wy, lay, fine, own % 3, far % 3, total)
        if 2 <= y <= rows + 1:
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y - 1, (y - 1) % 2, total, False)
            if counted:
                _product(summed, v, b, y - 1, (y - 1) % 2, depth)
        if y >= 3:
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y - 2, (y - 3) % 2, total, False)
            if counted:
                _product(summed, v, b, y - 2, (y - 3) % 2, depth)
    return float(summed.sum())


@fused_kernel
def bottom(
    v: F32, b: F32, pivot: F32, gx: F32, gy: F32, cz: F32, lay: I64, thick: F32, pat: I64, scale: F32, sweeps: int
) -> None:
    """The coarsest grid, from zero, by sweeps there and back so that the whole stays symmetric."""
    rows, halves = v.shape[0] - 2, v.shape[3] - 2
    total = np.zeros(halves, np.float32)
    v[:] = 0.0
    for turn in range(4 * sweeps):
        there = turn < 2 * sweeps
        colour = turn % 2 if there else 1 - turn % 2
        for y in range(1, rows + 1):
            _line(v, b, pivot, gx, gy, cz, lay, thick, pat, scale, y, (y - 1 + colour) % 2, total, False)


@fused_kernel
def _ahead(p: F32, z: F32, keep: np.float32, y: int, depth: int, n: int) -> None:
    """The next direction of a row."""
    for side in range(2):
        for k in range(depth):
            for i in range(n):
                p[y, side, k, i + 1] = z[y, side, k, i + 1] + keep * p[y, side, k, i + 1]


@fused_kernel
def _aside(total: F32, p: F32, gx: F32, gy: F32, y: int, s: int, k: int, m: int) -> None:
    """Heat that leaves the cells of one colour of a row within the layer, for unit thickness."""
    n = total.size
    if s == 0:
        for i in range(n):
            here = p[y, 0, k, i + 1]
            total[i] = gx[y, 1, m, i] * (here - p[y, 1, k, i]) + gx[y, 0, m, i + 1] * (here - p[y, 1, k, i + 1])
    else:
        for i in range(n):
            here = p[y, 1, k, i + 1]
            total[i] = gx[y, 0, m, i + 1] * (here - p[y, 0, k, i + 1]) + gx[y, 1, m, i + 1] * (here - p[y, 0, k, i + 2])
    for i in range(n):
        here = p[y, s, k, i + 1]
        total[i] += gy[y - 1, s, m, i + 1] * (here - p[y - 1, s, k, i + 1])
        total[i] += gy[y, s, m, i + 1] * (here - p[y + 1, s, k, i + 1])


@fused_kernel
def _balance(
    q: F32, p: F32, gx: F32, gy: F32, cz: F32, own: F32, lay: I64, thick: F32, pat: I64, scale: F32,
    y: int, s: int, total: F32, held: bool,
) -> None:  # fmt: skip
    """Heat that leaves every cell of one colour of a row, into q."""
    n, depth = total.size, thick.size
    for k in range(depth):
        m, d = lay[k], thick[k]
        _aside(total, p, gx, gy, y, s, k, m)
        if held:
            for i in range(n):
                total[i] += own[y, s, m, i + 1] * p[y, s, k, i + 1]
        pt, sc = pat[k], scale[k]
        if k == 0:
            for i in range(n):
                q[y, s, 0, i + 1] = d * total[i] + sc * cz[y, s, pt, i + 1] * p[y, s, 0, i + 1]
        else:
            for i in range(n):
                drop = p[y, s, k, i + 1] - p[y, s, k - 1, i + 1]
                q[y, s, k, i + 1] = d * total[i] + sc * cz[y, s, pt, i + 1] * drop
        pt, sc = pat[k + 1], scale[k + 1]
        if k == depth - 1:
            for i in range(n):
                q[y, s, k, i + 1] += sc * cz[y, s, pt, i + 1] * p[y, s, k, i + 1]
        else:
            for i in range(n):
                drop = p[y, s, k, i + 1] - p[y, s, k + 1, i + 1]
                q[y, s, k, i + 1] += sc * cz[y, s, pt, i + 1] * drop


@fused_kernel
def direction(
    p: F32, z: F32, beta: float, gx: F32, gy: F32, cz: F32, own: F32,
    lay: I64, thick: F32, pat: I64, scale: F32, held: bool,
) -> float:  # fmt: skip
    """Next direction p = z + beta p and, in the place of z, the heat A p that leaves each cell for it.

    Returns:
        the sum of p times A p.
    """
    rows, halves, depth = p.shape[0] - 2, p.shape[3] - 2, thick.size
    keep = np.float32(beta)
    total, summed = np.zeros(halves, np.float32), np.zeros(halves, np.float64)
    for y in range(1, rows + 2):
        if y <= rows:
            _ahead(p, z, keep, y, depth, halves)
        if y >= 2:
            for s in range(2):
                _balance(z, p, gx, gy, cz, own, lay, thick, pat, scale, y - 1, s, total, held)
                _product(summed, p, z, y - 1, s, depth)
    return float(summed.sum())


@fused_kernel
def advance(x: F32, r: F32, p: F32, q: F32, alpha: float) -> float:
    """Step along p: x += alpha p, r -= alpha q.

    Returns:
        the sum of squares of r.
    """
    rows, depth, n = x.shape[0] - 2, x.shape[2], x.shape[3] - 2
    step = np.float32(alpha)
    summed = np.zeros(n, np.float64)
    for y in range(1, rows + 1):
        for s in range(2):
            for k in range(depth):
                for i in range(n):
                    x[y, s, k, i + 1] += step * p[y, s, k, i + 1]
                for i in range(n):
                    r[y, s, k, i + 1] -= step * q[y, s, k, i + 1]
            _product(summed, r, r, y, s, depth)
    return float(summed.sum())


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
