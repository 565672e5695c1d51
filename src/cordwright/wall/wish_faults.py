"""Which of the owner's wishes for the layout cannot be, and what would serve instead?"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from difflib import get_close_matches

from cordwright.base import Problem
from cordwright.wall.inputs import Band, Joints, Splitting, Wishes
from cordwright.wall.layout import Face, Log
from cordwright.wall.place_faults import laid_place_faults, lock_place_faults

MOST_NAMED = 3
"""So many near names are told."""


def find_wish_faults(
    wishes: Wishes, faces: Sequence[Face], stock: Sequence[Log], ids: Collection[str], joints: Joints
) -> tuple[Problem, ...]:
    """Name every fault of the wishes for the layout and of what is told as laid.

    Args:
        wishes: as stated.
        faces: the panels.
        stock: the logs whose diameter at laying is known.
        ids: of all logs in stock, known or not.
        joints: joint widths as stated.
    """
    if wishes == Wishes():
        return ()
    known = {log.id for log in stock}
    names = [face.name for face in faces]
    faults = (
        *_unknown_logs(wishes, known, ids),
        *_unknown_panels(wishes, names),
        *_contradictions(wishes),
        *_band_faults(wishes.bands, faces),
        *_split_faults(wishes.splitting, stock),
        *_laid_twice(wishes),
    )
    if any(p.severity == "error" for p in faults):
        return faults
    return (*faults, *lock_place_faults(wishes, faces, stock, joints), *laid_place_faults(wishes, faces, stock, joints))


def _named(wishes: Wishes) -> Iterator[tuple[str, str]]:
    """Every place in the file that names a log of the stock."""
    yield from ((f"layout.forbid[{i}]", log) for i, log in enumerate(wishes.forbidden))
    for i, lock in enumerate(wishes.locks):
        yield f"layout.locks[{i}].log", lock.log
    for i, swap in enumerate(wishes.swaps):
        yield f"layout.swaps[{i}].log", swap.log
        yield f"layout.swaps[{i}].other", swap.other
    if wishes.splitting is not None:
        yield from ((f"layout.splits.logs[{i}]", log) for i, log in enumerate(wishes.splitting.logs))


def _unknown_logs(wishes: Wishes, known: Collection[str], ids: Collection[str]) -> Iterator[Problem]:
    for field, log in _named(wishes):
        if log not in ids:
            yield Problem(field=field, message=f"there is no log {log} in the stock", hint=_near(log, ids))
        elif log not in known:
            yield _without_size(field, log)
    for i, row in enumerate(wishes.laid):
        if row.diameter is None and row.log not in known:
            yield _strange(f"laid[{i}].log", row.log, ids)


def _without_size(field: str, log: str) -> Problem:
    hint = "state laying_moisture in [stock] and the shrinkage of its wood"
    return Problem(field=field, message=f"the diameter of log {log} at laying is not known", hint=hint)


def _strange(field: str, log: str, ids: Collection[str]) -> Problem:
    if log in ids:
        return _without_size(field, log)
    hint = f"{_near(log, ids)}; a log from elsewhere needs its diameter in the list"
    return Problem(field=field, message=f"there is no log {log} in the stock and it has no diameter here", hint=hint)


def _near(word: str, names: Collection[str]) -> str:
    near = get_close_matches(word[:100], list(names), n=MOST_NAMED, cutoff=0.5)
    if near:
        return f"the nearest are {', '.join(near)}" if len(near) > 1 else f"the nearest is {near[0]}"
    return "log ends are named as the stem list and the bucking sheet name them" if names else "no stock is stated"


def _unknown_panels(wishes: Wishes, names: Sequence[str]) -> Iterator[Problem]:
    stated = [
        *((f"layout.bands[{i}].panel", band.panel) for i, band in enumerate(wishes.bands) if band.panel),
        *((f"layout.locks[{i}].panel", lock.panel) for i, lock in enumerate(wishes.locks)),
        *((f"laid[{i}].panel", row.panel) for i, row in enumerate(wishes.laid)),
    ]
    for field, name in stated:
        if name not in names:
            near = get_close_matches(name[:100], names, n=1, cutoff=0.4)
            hint = f"allowed: {', '.join(names)}"
            yield Problem(
                field=field,
                message=f"there is no panel {name}",
                hint=f"the nearest is {near[0]}; {hint}" if near else hint,
            )


def _contradictions(wishes: Wishes) -> Iterator[Problem]:
    forbidden = set(wishes.forbidden)
    locks = [lock.log for lock in wishes.locks]
    cloven = set(wishes.splitting.logs) if wishes.splitting else set()
    yield from _locked_wrongly(locks, forbidden, cloven)
    for i, log in enumerate(wishes.forbidden):
        if log in wishes.forbidden[:i]:
            message = f"log {log} is forbidden twice"
            yield Problem(field=f"layout.forbid[{i}]", message=message, hint="keep it once", severity="warning")
    for i, swap in enumerate(wishes.swaps):
        for key, log in (("log", swap.log), ("other", swap.other)):
            yield from _swapped_wrongly(f"layout.swaps[{i}].{key}", log, forbidden, locks, cloven)
        if swap.log == swap.other:
            message = f"log {swap.log} is to change places with itself"
            yield Problem(field=f"layout.swaps[{i}].other", message=message, hint="name two logs")
    laid = [row.log for row in wishes.laid]
    for i, log in enumerate(wishes.forbidden):
        if log in laid:
            message = f"log {log} is forbidden but laid already; it stays where it is"
            yield Problem(
                field=f"layout.forbid[{i}]", message=message, hint="take it out of one list", severity="warning"
            )


def _locked_wrongly(locks: Sequence[str], forbidden: Collection[str], cloven: Collection[str]) -> Iterator[Problem]:
    for i, log in enumerate(locks):
        field = f"layout.locks[{i}].log"
        if log in forbidden:
            hint = "take it out of forbid, or take the lock away"
            yield Problem(field=field, message=f"log {log} is locked to a place and forbidden", hint=hint)
        if log in cloven:
            hint = "take it out of the splits, or take the lock away"
            yield Problem(field=field, message=f"log {log} is locked to a place and to be cleaved", hint=hint)
        if log in locks[:i]:
            message = f"log {log} is locked twice (already by layout.locks[{locks.index(log)}])"
            yield Problem(field=field, message=message, hint="keep one of its places")


def _swapped_wrongly(
    field: str, log: str, forbidden: Collection[str], locks: Collection[str], cloven: Collection[str]
) -> Iterator[Problem]:
    if log in forbidden:
        hint = "take it out of forbid, or swap with another log"
        yield Problem(field=field, message=f"log {log} is forbidden and would come into the wall", hint=hint)
    if log in locks:
        hint = "change its place in [[layout.locks]] instead"
        yield Problem(field=field, message=f"log {log} is locked to a place and cannot change it", hint=hint)
    if log in cloven:
        yield Problem(field=field, message=f"log {log} is to be cleaved", hint="only rounds change places")


def _heights(face: Face) -> tuple[float, float]:
    heights = [y for _, y in face.outline]
    return min(heights), max(heights)


def _band_faults(bands: Sequence[Band], faces: Sequence[Face]) -> Iterator[Problem]:
    for i, band in enumerate(bands):
        field = f"layout.bands[{i}]"
        if band.low >= band.high:
            message = f"the band runs from {_m(band.low)} up to {_m(band.high)}"
            yield Problem(field=f"{field}.high", message=message, hint="high must lie above low; heights over the bed")
        heads = [_heights(face)[1] - _heights(face)[0] for face in faces if band.panel in ("", face.name)]
        head = max(heads, default=0.0)
        if heads and band.high > head + 1e-9:
            yield _above_head(field, band, head)
        yield from _bands_at_odds(i, bands)


def _above_head(field: str, band: Band, head: float) -> Problem:
    where = f"panel {band.panel}" if band.panel else "the highest panel"
    if band.low >= head:
        message = f"the band begins at {_m(band.low)}, above the wall head of {where} at {_m(head)}"
        return Problem(field=f"{field}.low", message=message, hint=f"less than {_m(head)}")
    message = f"the band ends at {_m(band.high)}, above the wall head of {where} at {_m(head)}"
    return Problem(field=f"{field}.high", message=message, hint=f"at most {_m(head)}")


def _bands_at_odds(i: int, bands: Sequence[Band]) -> Iterator[Problem]:
    mine = bands[i]
    for k, other in enumerate(bands[:i]):
        low, high = max(mine.low, other.low), min(mine.high, other.high)
        meet = low < high and (not mine.panel or not other.panel or mine.panel == other.panel)
        if meet and mine.sizes != other.sizes:
            message = f"between {_m(low)} and {_m(high)} large logs are wanted and small ones too (layout.bands[{k}])"
            yield Problem(field=f"layout.bands[{i}]", message=message, hint="let the bands stand clear of each other")


def _m(length: float) -> str:
    return f"{round(length, 4):g} m"


def _split_faults(splitting: Splitting | None, stock: Sequence[Log]) -> Iterable[Problem]:
    if splitting is None or splitting.over is None or not stock:
        return ()
    largest = max(log.diameter for log in stock)
    if splitting.over < largest:
        return ()
    message = f"no log is over {splitting.over * 1000:.0f} mm; the largest has {largest * 1000:.0f} mm at laying"
    hint = f"less than {largest * 1000:.0f} mm, or take the key away"
    return (Problem(field="layout.splits.over", message=message, hint=hint, severity="warning"),)


def _laid_twice(wishes: Wishes) -> Iterator[Problem]:
    counts = Counter(row.log for row in wishes.laid)
    first: dict[str, int] = {}
    for i, row in enumerate(wishes.laid):
        if counts[row.log] > 1 and row.log in first:
            message = f"log {row.log} stands in the list of laid logs twice (row {first[row.log] + 1} of it too)"
            yield Problem(field=f"laid[{i}].log", message=message, hint="keep the row that is true")
        first.setdefault(row.log, i)
