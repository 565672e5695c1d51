"""Does every opening and sleeve fit where the owner puts it, and if not, where is the nearest place that does?"""

from collections import Counter, defaultdict
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from cordwright.base import Problem
from cordwright.plan.inputs import BottleGroup, Opening, PlanInput, Sleeve
from cordwright.plan.openings import Body, body, disc
from cordwright.plan.places import TOUCH, Bay, free_places, nearest, reach, room, tidy, too_high, widest
from cordwright.plan.words import known_names, mm

MOST_BOTTLES = 10_000
"""So many bottle ends of a group are numbered when ids are compared."""

MOST_CLASHES = 3
"""So many overlaps of one thing are told; more would not help."""

MOST_HINTS = 50
"""For so many things of one panel the nearest place is looked for; moving those changes the places of the rest."""


@dataclass(kw_only=True, eq=False)
class Thing:
    """An opening or sleeve in its panel: its axis, its own edge, and the edge of the hole it needs."""

    key: str
    order: int
    id: str
    kind: str
    place: float
    edge: Body
    hole: Body
    stated: float
    clashes: list[str] = field(default_factory=list)

    @property
    def left(self) -> float:
        """Its left edge in the panel [m]."""
        return self.place - self.edge.half

    @property
    def right(self) -> float:
        """Its right edge in the panel [m]."""
        return self.place + self.edge.half

    @cached_property
    def to_stated(self) -> float:
        """What to add to an axis to get the owner's from_left."""
        return self.stated - self.place


def opening_thing(n: int, opening: Opening, slack: float) -> Thing:
    """Make a thing of an opening; the hole is larger than the frame by `slack` [m] on each side."""
    return Thing(
        key=f"openings[{n}]",
        order=n,
        id=opening.id,
        kind="opening",
        place=opening.from_left + opening.width / 2,
        edge=body(opening),
        hole=body(opening, slack),
        stated=opening.from_left,
    )


def sleeve_thing(n: int, sleeve: Sleeve) -> Thing:
    """Make a thing of a sleeve."""
    edge = disc(sleeve.diameter, sleeve.height)
    return Thing(
        key=f"sleeves[{n}]",
        order=n,
        id=sleeve.id,
        kind="sleeve",
        place=sleeve.from_left,
        edge=edge,
        hole=edge,
        stated=sleeve.from_left,
    )


def panel_faults(plan: PlanInput, panel: str, bay: Bay, things: Sequence[Thing]) -> Iterator[Problem]:
    """Find which things of a panel stand past its ends, above its head, below the bed, or in one another."""
    slack = plan.opening_slack or 0.0
    in_order = sorted(things, key=lambda t: t.place - t.hole.half)
    _mark_clashes(in_order, bay, slack)
    told = 0
    for thing in things:
        yield from _height_faults(thing, bay, things)
        if thing.clashes or _past_ends(thing, bay):
            told += 1
            hint = _nearest_hint(thing, panel, bay, things) if told <= MOST_HINTS else "mend the others first"
            yield _place_fault(thing, bay, hint)


def _mark_clashes(in_order: Sequence[Thing], bay: Bay, slack: float) -> None:
    """Walk from left to right and tell each overlap once, on the thing that should move."""
    beside: list[Thing] = []
    for thing in in_order:
        beside = [t for t in beside if t.place + t.hole.half > thing.place - thing.hole.half + TOUCH]
        for other in beside:
            if len(thing.clashes) >= MOST_CLASHES:
                break
            if abs(thing.place - other.place) < reach(thing.hole, other.hole) - TOUCH:
                mover, stayer = _mover(thing, other, bay)
                if len(mover.clashes) < MOST_CLASHES:
                    mover.clashes.append(_clash(mover, stayer, slack))
        beside.append(thing)


def _mover(one: Thing, other: Thing, bay: Bay) -> tuple[Thing, Thing]:
    """Tell which of two should move: the one past the panel's end, else a sleeve, else the one written later."""

    def rank(thing: Thing) -> tuple[bool, bool, int]:
        return (_past_ends(thing, bay) != [], thing.kind == "sleeve", thing.order)

    return (one, other) if rank(one) > rank(other) else (other, one)


def _clash(mover: Thing, stayer: Thing, slack: float) -> str:
    """Tell an overlap in the sizes the owner typed, or in the holes when only the slack overlaps."""
    frames = abs(mover.place - stayer.place) < reach(mover.edge, stayer.edge) - TOUCH
    a, b = (mover.edge, stayer.edge) if frames else (mover.hole, stayer.hole)
    over = min(mover.place + a.half, stayer.place + b.half) - max(mover.place - a.half, stayer.place - b.half)
    high = min(a.top, b.top) - max(a.bottom, b.bottom)
    size = f"over {mm(over)} mm, {mm(high)} mm high"
    if not frames:
        return f"leaves no wall beside {stayer.id}: with {mm(slack)} mm slack around each frame they overlap {size}"
    return (
        f"stands in the opening {stayer.id} {size}" if _is_pipe_in_hole(mover, stayer) else f"covers {stayer.id} {size}"
    )


def _is_pipe_in_hole(mover: Thing, stayer: Thing) -> bool:
    return mover.kind == "sleeve" and stayer.kind == "opening"


def _past_ends(thing: Thing, bay: Bay) -> list[str]:
    told = []
    if thing.left < -TOUCH:
        told.append(f"starts {mm(-thing.left)} mm before the panel's start")
    if thing.right > bay.width + TOUCH:
        told.append(f"runs {mm(thing.right - bay.width)} mm past the panel end")
    return told


def _place_fault(thing: Thing, bay: Bay, hint: str) -> Problem:
    past = _past_ends(thing, bay)
    seam = "; a closed wall begins due north unless a post is stated elsewhere" if past and bay.closed else ""
    return Problem(
        field=f"{thing.key}.from_left",
        message=f"{thing.id} " + " and ".join((*past, *thing.clashes)),
        hint=hint + seam,
    )


def _lowered(thing: Thing, by: float) -> Thing:
    def moved(b: Body) -> Body:
        return Body(
            half=b.half, bottom=b.bottom - by, top=b.top - by, low=b.low - by, high=b.high - by, radius=b.radius
        )

    return Thing(
        key=thing.key,
        order=thing.order,
        id=thing.id,
        kind=thing.kind,
        place=thing.place,
        edge=moved(thing.edge),
        hole=moved(thing.hole),
        stated=thing.stated,
    )


def _nearest_hint(thing: Thing, panel: str, bay: Bay, things: Sequence[Thing]) -> str:
    """Tell the smallest move along the panel that clears everything; a thing too high for it is lowered first."""
    others = [(t.place, t.hole) for t in things if t is not thing]
    span, lower = room(thing.edge, bay), 0.0
    if span is None:
        lower = max(0.0, too_high(thing.edge, thing.place, bay))
        thing = _lowered(thing, lower)
        span = room(thing.edge, bay) if thing.edge.bottom >= -TOUCH else None
    found = nearest(free_places(span, thing.hole, others), thing.place)
    if found is None or span is None:
        edges = (0.0, bay.width) if span is None else (span[0] - thing.edge.half, span[1] + thing.edge.half)
        stretch = widest(edges, thing.hole, others)
        return f"does not fit in panel {panel}: the widest clear stretch at this height is {mm(stretch)} mm"
    place, (low, high) = found
    shift = thing.to_stated
    from_left = tidy(place + shift, low + shift, high + shift)
    at = f" once it stands {mm(lower)} mm lower" if lower > 0 else ""
    return f"fits with from_left = {mm(from_left)} mm{at}"


def _height_faults(thing: Thing, bay: Bay, things: Sequence[Thing]) -> Iterator[Problem]:
    key = f"{thing.key}.{'sill' if thing.kind == 'opening' else 'height'}"
    if thing.edge.bottom < -TOUCH:
        what = "sill is" if thing.kind == "opening" else "reaches"
        least = 0.0 if thing.kind == "opening" else thing.edge.half
        yield Problem(
            field=key,
            message=f"{thing.id} {what} {mm(-thing.edge.bottom)} mm below the bed",
            hint=f"at least {mm(least)} mm",
        )
    over = too_high(thing.edge, min(max(thing.place, 0.0), bay.width), bay)
    if over > TOUCH:
        head = "head is" if thing.kind == "opening" else "reaches"
        yield Problem(
            field=key,
            message=f"{thing.id} {head} {mm(over)} mm above the wall head",
            hint=_lower_hint(thing, over, bay, things),
        )


def _lower_hint(thing: Thing, over: float, bay: Bay, things: Sequence[Thing]) -> str:
    """Tell the greatest sill (or axis height) that fits, the height that fits, and the place that fits as it is."""
    lowered = _lowered(thing, over)
    others = [(t.place, t.hole) for t in things if t is not thing]
    ways = []
    if lowered.edge.bottom >= -TOUCH and not any(
        abs(thing.place - u) < reach(lowered.hole, o) - TOUCH for u, o in others
    ):
        ways.append(f"{'sill' if thing.kind == 'opening' else 'height'} = {mm(_height_of(lowered))} mm")
    if thing.edge.high - thing.edge.low > over + TOUCH:
        ways.append(f"height = {mm(thing.edge.top - thing.edge.bottom - over)} mm")
    found = nearest(free_places(room(thing.edge, bay), thing.hole, others), thing.place)
    if found is not None:
        place, (low, high) = found
        shift = thing.to_stated
        ways.append(f"from_left = {mm(tidy(place + shift, low + shift, high + shift))} mm")
    return f"fits with {' or '.join(ways)}" if ways else f"a wall {mm(over)} mm higher, or a smaller one"


def _height_of(thing: Thing) -> float:
    """What the owner typed for its height: an opening's sill, a sleeve's axis; rounded down so that it fits."""
    stated = thing.edge.bottom if thing.kind == "opening" else thing.edge.high
    return tidy(max(stated, 0.0), 0.0, max(stated, 0.0))


def things_by_panel(plan: PlanInput, bad: Container[str]) -> Mapping[str, list[Thing]]:
    """Gather the things of each panel, leaving out those whose own sizes are faulty (`bad` holds their keys)."""
    slack = plan.opening_slack or 0.0
    gathered: dict[str, list[Thing]] = defaultdict(list)
    for n, opening in enumerate(plan.openings):
        if f"openings[{n}]" not in bad:
            gathered[opening.panel].append(opening_thing(n, opening, slack))
    for n, sleeve in enumerate(plan.sleeves):
        if f"sleeves[{n}]" not in bad:
            gathered[sleeve.panel].append(sleeve_thing(n, sleeve))
    return gathered


def _kinds(plan: PlanInput) -> tuple[tuple[str, Sequence[Opening | Sleeve | BottleGroup]], ...]:
    return (("openings", plan.openings), ("sleeves", plan.sleeves), ("bottles", plan.bottles))


def id_faults(plan: PlanInput) -> Iterator[Problem]:
    """Find ids that are empty or used twice."""
    kinds = _kinds(plan)
    times = Counter(item.id for _, items in kinds for item in items)
    times.update(f"{group.id}.{n}" for group in plan.bottles for n in range(1, min(group.count, MOST_BOTTLES) + 1))
    for kind, items in kinds:
        for n, item in enumerate(items):
            if not item.id.strip():
                yield Problem(field=f"{kind}[{n}].id", message="an empty id", hint="give it a short mark, such as W1")
            elif times[item.id] > 1:
                message = f"the id {item.id} is used {times[item.id]} times"
                yield Problem(field=f"{kind}[{n}].id", message=message, hint="give each thing its own mark")


def panel_name_faults(plan: PlanInput, known: Sequence[str]) -> Iterator[Problem]:
    """Find things put into panels that are not there."""
    for kind, items in _kinds(plan):
        for n, item in enumerate(items):
            if item.panel not in known:
                message = f"there is no panel {item.panel}"
                yield Problem(field=f"{kind}[{n}].panel", message=message, hint=known_names(item.panel, known))
