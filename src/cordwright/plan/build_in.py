"""What must be set into each panel while it rises, before it is too late?"""

from collections.abc import Iterator
from itertools import groupby

from cordwright.plan.inputs import Opening, PlanInput
from cordwright.plan.results import BuildIn, CornerBlock, Obstacle, Panel
from cordwright.plan.words import listing, mm

FRAMES = {"window": "window frame", "door": "door frame", "other": "frame"}


def build_in(plan: PlanInput, panels: tuple[Panel, ...], held: frozenset[str]) -> tuple[BuildIn, ...]:
    """List what each panel takes in, panel by panel, lowest first; `held` names the panels between posts."""
    rows: list[BuildIn] = []
    for panel in panels:
        lines = [
            *_key_strips(panel, held),
            *_blocks(plan, panel),
            *_frames(panel),
            *_pipes(plan, panel),
            *_bottles(plan, panel),
        ]
        rows += sorted(lines, key=lambda line: line.bottom)
    return tuple(rows)


def _key_strips(panel: Panel, held: frozenset[str]) -> Iterator[BuildIn]:
    if panel.name in held:
        posts = "the post" if panel.blocks else "both posts"
        yield BuildIn(panel=panel.name, mark="", what=f"key strip on {posts}", size="", bottom=0.0, from_left=0.0)


def _blocks(plan: PlanInput, panel: Panel) -> Iterator[BuildIn]:
    """Corner blocks that run along this panel's wall, end by end: those of full height, then the one cut to the head.

    Each block of the house stands in one list alone; the courses between belong to the wall around the corner.
    """
    for end in ("left", "right"):
        blocks = [b for b in panel.blocks if b.end == end]
        full = [b for b in blocks if b.top - b.bottom > (plan.corners.block_height or 0.0) - 1e-6]
        for some in (full, [b for b in blocks if b not in full]):
            if some:
                yield _block_line(plan, panel, some)


def _block_line(plan: PlanInput, panel: Panel, blocks: list[CornerBlock]) -> BuildIn:
    """Blocks that are alike, with the courses in which they lie."""
    first = blocks[0]
    lengths = (plan.corners.block_length or 0.0, plan.section.thickness, first.top - first.bottom)
    named = f"courses {listing([str(b.course) for b in blocks])}" if len(blocks) > 1 else f"course {first.course}"
    cut = "" if len(blocks) > 1 or lengths[2] > (plan.corners.block_height or 0.0) - 1e-6 else ", cut to the wall head"
    count = f"{len(blocks)} corner blocks" if len(blocks) > 1 else "1 corner block"
    return BuildIn(
        panel=panel.name,
        mark="",
        what=f"{count}, {first.end} end, {named}{cut}",
        size=" x ".join(mm(length) for length in lengths) + " mm",
        bottom=first.bottom,
        from_left=first.left,
        sizes=lengths,
    )


def _frames(panel: Panel) -> Iterator[BuildIn]:
    for placed in panel.openings:
        opening = placed.opening
        if opening.use == "window":
            yield BuildIn(
                panel=panel.name,
                mark=opening.id,
                what="sill, falling out",
                size=f"{mm(opening.width)} mm long",
                bottom=opening.sill,
                from_left=opening.from_left,
                sizes=(opening.width,),
            )
        yield _frame(panel.name, opening)
        if opening.lintel_depth is not None or opening.lintel_bearing is not None:
            yield _lintel(panel.name, opening)


def _frame(panel: str, opening: Opening) -> BuildIn:
    shape = {"rectangle": "", "round": ", round", "arched": f", arched {mm(opening.rise)} mm"}[opening.shape]
    return BuildIn(
        panel=panel,
        mark=opening.id,
        what=FRAMES[opening.use],
        size=f"{mm(opening.width)} x {mm(opening.height)} mm{shape}",
        bottom=opening.sill,
        from_left=opening.from_left,
        sizes=(opening.width, opening.height, *((opening.rise,) if opening.shape == "arched" else ())),
    )


def _lintel(panel: str, opening: Opening) -> BuildIn:
    """Give a lintel as far as it is stated; a blank bearing or depth is said to be blank."""
    bearing, depth = opening.lintel_bearing, opening.lintel_depth
    long = opening.width + 2 * bearing if bearing is not None else None
    told = f"{mm(long)} mm long" if long is not None else f"over {mm(opening.width)} mm, bearing not stated"
    return BuildIn(
        panel=panel,
        mark=opening.id,
        what="lintel",
        size=told + (f", {mm(depth)} mm deep" if depth is not None else ", depth not stated"),
        bottom=opening.sill + opening.height,
        from_left=opening.from_left - (bearing or 0.0),
        sizes=tuple(s for s in (long, depth) if s is not None),
    )


def _pipes(plan: PlanInput, panel: Panel) -> Iterator[BuildIn]:
    for sleeve in plan.sleeves:
        if sleeve.panel == panel.name:
            yield BuildIn(
                panel=panel.name,
                mark=sleeve.id,
                what=f"sleeve: {sleeve.what}" if sleeve.what else "sleeve",
                size=f"{mm(sleeve.diameter)} mm",
                bottom=sleeve.height - sleeve.diameter / 2,
                from_left=sleeve.from_left,
                sizes=(sleeve.diameter,),
            )


def _bottles(plan: PlanInput, panel: Panel) -> Iterator[BuildIn]:
    """Give a group as one line; bottles follow the sleeves and carry their group's id before the last dot of theirs."""
    ends = panel.obstacles[sum(s.panel == panel.name for s in plan.sleeves) :]
    for mark, group in groupby(ends, key=lambda o: o.id.rpartition(".")[0]):
        yield _group(panel.name, mark, list(group))


def _group(panel: str, mark: str, ends: list[Obstacle]) -> BuildIn:
    diameter = ends[0].diameter
    return BuildIn(
        panel=panel,
        mark=mark,
        what=f"{len(ends)} bottle ends",
        size=f"{mm(diameter)} mm",
        bottom=min(e.v for e in ends) - diameter / 2,
        from_left=min(e.u for e in ends) - diameter / 2,
        sizes=(diameter,),
    )
