"""Which of the listed stems cannot be, and which give less than their owner may think?"""

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from cordwright.base import Problem, table
from cordwright.timber.bucking import Sawing, cut_stem, pieces_of_clean_stick
from cordwright.timber.inputs import Stem, TimberInput


def stem_faults(timber: TimberInput, log_end_length: float) -> tuple[Problem, ...]:
    """Name every fault of the listed stems, then what the sound ones do not give.

    Args:
        timber: the stock as read, in SI.
        log_end_length: the wall's one length, more than 0 [m].
    """
    listed = tuple(enumerate(timber.stems))
    wrong = {i: tuple(_size_faults(f"stems[{i}]", stem)) for i, stem in listed}
    sound = [(i, stem) for i, stem in listed if not wrong[i]]
    faults = (*(p for problems in wrong.values() for p in problems), *_name_faults(timber))
    sawing = Sawing.of(timber, log_end_length)
    if min(sawing.kerf, sawing.end_trim, sawing.least_diameter) < 0 or not 0 < sawing.bark_factor <= 1:
        return faults
    return (*faults, *_yield_warnings(sound, sawing))


def _mm(length: float) -> str:
    return f"{length * 1000:.6g} mm"


def _problem(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint)


def _size_faults(field: str, stem: Stem) -> Iterator[Problem]:
    limits, wrong = table("stock")["limits"], False
    sizes = (("butt_diameter", "diameter"), ("top_diameter", "diameter"), ("length", "length"))
    for name, limit in sizes:
        size = getattr(stem, name)
        if not 0 < size <= limits[limit]:
            wrong = True
            hint = f"more than 0, at most {_mm(limits[limit])}; look at the unit"
            yield _problem(f"{field}.{name}", f"is {_mm(size)}", hint)
    if stem.count < 1:
        yield _problem(f"{field}.count", f"is {stem.count}", "1 or more")
    if wrong:
        return
    if stem.top_diameter > stem.butt_diameter:
        message = f"the top ({_mm(stem.top_diameter)}) is thicker than the butt ({_mm(stem.butt_diameter)})"
        yield _problem(f"{field}.butt_diameter", message, "are the two ends swapped?")
    yield from _defect_faults(f"{field}.defects", stem)


def _defect_faults(field: str, stem: Stem) -> Iterator[Problem]:
    for defect in stem.defects:
        if not 0 <= defect.start < defect.end <= stem.length + 1e-9:
            message = f"{_mm(defect.start)} to {_mm(defect.end)} does not lie on a stem of {_mm(stem.length)}"
            yield _problem(field, message, "measure both places from the butt, the nearer first")
            return
    for first, second in pairwise(sorted(stem.defects, key=lambda d: d.start)):
        if second.start < first.end:
            message = f"two defects overlap from {_mm(second.start)} to {_mm(min(first.end, second.end))}"
            yield _problem(field, message, "write them as one stretch")


def _name_faults(timber: TimberInput) -> Iterator[Problem]:
    """Names from which the ids of log ends are made must lead to one stem each."""
    hint = "give each stem a name of its own"
    names = Counter(stem.name for stem in timber.stems)
    alike = {stem.name: stem.count for stem in timber.stems if stem.count > 1}
    seen: set[str] = set()
    for i, stem in enumerate(timber.stems):
        if stem.name in seen:
            yield _problem(f"stems[{i}].stem", f"{stem.name!r} names {names[stem.name]} stems", hint)
        base, _, number = stem.name.rpartition(".")
        if number.isdecimal() and 1 <= int(number) <= alike.get(base, 0):
            yield _problem(f"stems[{i}].stem", f"{stem.name!r} is one of the {alike[base]} stems of {base!r}", hint)
        if stem.name == "pile" and timber.piles:
            yield _problem(f"stems[{i}].stem", "'pile' names the pieces of the stack", hint)
        seen.add(stem.name)


def _yield_warnings(stems: list[tuple[int, Stem]], sawing: Sawing) -> Iterator[Problem]:
    if stems and all(stem.length < sawing.length for _, stem in stems):
        longest = max(stem.length for _, stem in stems)
        message = f"no stem is as long as a log end of {_mm(sawing.length)}: the longest is {_mm(longest)}"
        yield _warning("wall.log_end_length", message, "look at the units of both")
        return
    for i, stem in stems:
        yield from _yield_of(f"stems[{i}]", stem, sawing)


def _yield_of(field: str, stem: Stem, sawing: Sawing) -> Iterator[Problem]:
    cut = cut_stem(stem, sawing)
    count = len(cut.pieces)
    if not count:
        yield _no_log_end(field, stem, sawing)
    if cut.short_if_retrimmed:
        ends = f"{count} log {'end' if count == 1 else 'ends'} of {_mm(sawing.length)}"
        message = f"{stem.name!r}, {_mm(stem.length)}, gives {ends} as it is, one fewer when both ends are cut fresh"
        yield _warning(f"{field}.length", message, "cut sticks longer, or state end_trim in [stock]")


def _no_log_end(field: str, stem: Stem, sawing: Sawing) -> Problem:
    between = stem.length - 2 * sawing.end_trim
    if not pieces_of_clean_stick(between, sawing.length, sawing.kerf):
        message = f"{_mm(stem.length)} is too short for trims and one log end of {_mm(sawing.length)}"
        return _warning(f"{field}.length", f"{message}: it gives none", "look at the unit, or leave it for other uses")
    message = f"{stem.name!r} gives no log end: defects or the least diameter ({_mm(sawing.least_diameter)}) leave none"
    return _warning(field, message, "leave it for other uses")


def _warning(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint, severity="warning")
