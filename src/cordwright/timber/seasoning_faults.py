"""What in the days, weighings, readings and the treatment cannot be?"""

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from cordwright.base import Problem, table
from cordwright.timber.end_treatment import film_word, refused_word
from cordwright.timber.inputs import MarkedEnd, SeasoningInput, TimberInput, Treatment
from cordwright.timber.stacks import day_of, stack_of


def seasoning_faults(timber: TimberInput) -> Iterator[Problem]:
    """Name every fault of the seasoning and the treatment.

    Args:
        timber: the stock as read, in SI.
    """
    seasoning = timber.seasoning
    yield from _day_faults(seasoning)
    yield from _stem_day_faults(timber)
    yield from _laying_faults(timber)
    yield from _end_faults(seasoning)
    yield from _weighing_faults(seasoning)
    yield from _reading_faults(seasoning)
    if seasoning.cover == "all sides":
        message = "a stack wrapped on all sides moulds: it is refused"
        yield _warning("seasoning.cover", message, "take the sides off and cover the top alone, both ends open")
    if seasoning.checked_share is not None and not 0 <= seasoning.checked_share <= 1:
        yield _problem("seasoning.checked_share", "is no share", "from 0 % to 100 %")
    if timber.treatment is not None:
        yield from _treatment_faults(timber.treatment)


def _problem(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint)


def _warning(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint, severity="warning")


def _day_faults(seasoning: SeasoningInput) -> Iterator[Problem]:
    order = ("felled", "peeled", "stacked", "laying")
    known = [(name, day) for name in order if (day := getattr(seasoning, name)) is not None]
    for (before, first), (after, second) in pairwise(known):
        if second < first:
            message = f"{second.isoformat()} lies before {before} ({first.isoformat()})"
            field = "site.laying_begins" if after == "laying" else f"seasoning.{after}"
            yield _problem(field, message, "felled, peeled, stacked, laying follow each other")


def _stem_day_faults(timber: TimberInput) -> Iterator[Problem]:
    for i, stem in enumerate(timber.stems):
        for name in ("felled", "peeled", "stacked"):
            text = getattr(stem, name).strip()
            if text and day_of(text) is None:
                message = f"{text[:40]!r} is read as no day: drying counts as if it were blank"
                yield _warning(f"stems[{i}].{name}", message, "write 2027-05-15, or 2027-05")


def _laying_faults(timber: TimberInput) -> Iterator[Problem]:
    laying, stack = timber.seasoning.laying, stack_of(timber)
    if laying is not None and stack.start is not None and laying < stack.start:
        message = f"{laying.isoformat()} lies before the drying begins ({stack.start.isoformat()})"
        yield _problem("site.laying_begins", message, "lay after the wood is stacked")


def _end_faults(seasoning: SeasoningInput) -> Iterator[Problem]:
    most = float(table("stock")["limits"]["diameter"])
    names = Counter(end.name for end in seasoning.samples)
    for i, end in enumerate(seasoning.samples):
        field = f"seasoning.samples[{i}]"
        if names[end.name] > 1:
            yield _problem(f"{field}.name", f"{end.name!r} names {names[end.name]} ends", "a name for each")
        if end.diameter > most:
            yield _problem(f"{field}.diameter", f"is {end.diameter * 1000:.6g} mm", "look at the unit")
        yield from _mass_faults(field, end, seasoning)


def _mass_faults(field: str, end: MarkedEnd, seasoning: SeasoningInput) -> Iterator[Problem]:
    weighed = [w for w in seasoning.weighings if w.end == end.name]
    if end.oven_dry_mass is None:
        if weighed and not any(r.where == end.name for r in seasoning.readings):
            hint = "state oven_dry_mass, or a meter reading of this end below 28 % within three days of a weighing"
            yield _warning(f"{field}.oven_dry_mass", "is blank: its weighings tell no moisture", hint)
        return
    lightest = min((w.mass for w in weighed), default=None)
    if lightest is not None and lightest < end.oven_dry_mass:
        message = f"{end.oven_dry_mass:.6g} kg is more than a weighing of {lightest:.6g} kg"
        yield _problem(f"{field}.oven_dry_mass", message, "no wood is lighter than oven-dry; look at both")


def _weighing_faults(seasoning: SeasoningInput) -> Iterator[Problem]:
    ends = {end.name: end for end in seasoning.samples}
    for i, row in enumerate(seasoning.weighings):
        field = f"seasoning.weighings[{i}]"
        if row.end not in ends:
            yield _problem(f"{field}.end", f"no marked end is called {row.end!r}", "add it to [[seasoning.samples]]")
        elif (cut := ends[row.end].cut) is not None and row.date < cut:
            yield _problem(f"{field}.date", f"{row.date.isoformat()} lies before it was cut", "look at both days")


def _reading_faults(seasoning: SeasoningInput) -> Iterator[Problem]:
    most = float(table("stock")["limits"]["moisture"])
    for i, row in enumerate(seasoning.readings):
        if not 0 < row.value <= most:
            message = f"is {row.value * 100:.6g} %"
            yield _problem(f"seasoning.readings[{i}].value", message, f"more than 0 %, at most {most * 100:.6g} %")


def _treatment_faults(treatment: Treatment) -> Iterator[Problem]:
    never, film = refused_word(treatment.product), film_word(treatment.product)
    if never:
        message = f"{never!r} is refused: it poisons people, pets and wells and is registered for no wood"
        yield _problem("treatment.product", message, "name a registered wood preservative, or take the table out")
    elif film:
        message = f"a film of {film} on end grain is advised against: it traps the water that comes in at the checks"
        yield _warning("treatment.product", message, "leave the ends open, or use a borate that soaks in")
    if not treatment.registration.strip():
        hint = "copy the registration number from the label; without it no dose is given"
        yield _warning("treatment.registration", "is blank: only registered products are used", hint)
    if treatment.temperature is not None and not 0 <= treatment.temperature <= 100:
        message = f"is {treatment.temperature:.3g} degC"
        yield _problem("treatment.temperature", message, "0 to 100 degC: the liquid is mostly water")
    if treatment.strength is not None and treatment.strength_by_volume is not None:
        message = "strength and strength_by_volume are both stated"
        yield _problem("treatment.strength_by_volume", message, "keep the one on the label")
