"""What must somebody with a licence look at before the frame is bought? Questions, what the file says, who answers.

Nothing is judged here: the loads are this book's own sums of what the owner stated, to be looked at and not relied on.
"""

from collections.abc import Iterable, Iterator
from math import degrees
from typing import Final

from cordwright.base import Check, caution
from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Sheet, Table, table
from cordwright.book.lettering import Lettering, capped
from cordwright.book.section_drawing import not_stated
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.front import LEFT_OUT, figure_table
from cordwright.case import Project
from cordwright.plan.inputs import Opening, PlanInput
from cordwright.reckon import Reckoning

LEAD: Final = (
    "No engineer has looked at this building. Show these sheets, with the plan, the sides and the section, before the "
    "frame is bought."
)
WEIGHT: Final = "Posts and beam carry the roof. The log wall is weight on the plinth and never counted as strength."
LOADS: Final = ("wall.log_mass", "wall.mortar_mass", "wall.fill_volume")
"""What stands on the plinth; figures of the structure's own stage follow by their name."""
STRUCTURE: Final = "structure."
TOLD: Final = ("snow", "wind", "earthquake", "seismic")
UNSTATED: Final = "not stated"
ROOMY: Final = 4
"""So many lines for those who look at it."""

Ask = tuple[str, str, str]


def engineer_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Questions with what is known, loads for review, what is not shown to hold, and lines to sign."""
    blocks: list[Block] = [
        Paragraph(text=LEAD, manner="lead"),
        Paragraph(text=WEIGHT),
        Heading(text="What to ask, and who answers"),
        _questions(project, reckoning, lettering),
        *(caution_box(c) for c in reckoning.cautions if c.key == "load-path"),
        *_loads(reckoning, lettering),
        *_open_checks(reckoning.checks, lettering),
        Heading(text="Not stated in the file, or not reckoned"),
        Items(items=tuple(capped(words) for words in (*_unstated(project.plan), *LEFT_OUT))),
        Heading(text="Looked at"),
        _signatures(),
    ]
    return Sheet(mark="ENG", title="Ask the engineer", slug="engineer", blocks=tuple(blocks))


def _questions(project: Project, reckoning: Reckoning, lettering: Lettering) -> Table:
    columns = (
        Column(title="Ask", share=3.0),
        Column(title="What the file says", share=3.0),
        Column(title="Who answers", share=1.9),
    )
    return table("What to ask the engineer", columns, list(_asked(project, reckoning, lettering)), tick=True)


def _asked(project: Project, reckoning: Reckoning, lettering: Lettering) -> Iterator[Ask]:
    """Question, what is known of it, and who answers, in the order in which it is built."""
    plan = project.plan
    yield (
        "How deep and how wide must the footing be on this soil, and where does its water go?",
        _ground(project, lettering),
        _decides("frost-heave"),
    )
    yield "Which loads of snow, wind and earthquake hold here?", _told(project), _decides("snow")
    yield (
        "Are posts, beam and their joints enough for the roof, its snow and a wind that lifts it?",
        _frame(plan, lettering),
        _decides("load-path"),
    )
    if plan.openings:
        yield (
            "Does every lintel carry what lies above it, and on enough bearing?",
            _lintels(plan.openings, lettering),
            _decides("load-path"),
        )
    if plan.roof is not None:
        pushes = plan.roof.form in ("hip", "cone")
        words = (
            "What does the roof push outward, and what ties it?"
            if pushes
            else "What keeps the rafters from spreading, and what ties them down?"
        )
        yield words, _roof(plan, lettering), _decides("thrust")
    yield (
        "What holds the infill in its frame against wind and earthquake?",
        _widest(reckoning, lettering),
        _decides("earthquake"),
    )
    if plan.sleeves:
        named = ", ".join(f"{s.id} ({s.what})" for s in plan.sleeves)
        yield "What clearance and fire stop does each pipe through the wall need?", named, _decides("fill-fire")


def _decides(key: str) -> str:
    return capped(caution(key).decides)


def _ground(project: Project, lettering: Lettering) -> str:
    plan = project.plan
    sizes = [
        f"plinth {lettering.value(plan.plinth_height, 'm')} high" if plan.plinth_height else f"plinth height {UNSTATED}"
    ]
    sizes.append(f"{lettering.value(plan.plinth_width, 'm')} wide" if plan.plinth_width else f"width {UNSTATED}")
    soil = f"Soil: {project.site.soil or UNSTATED}."
    return f"{capped(', '.join(sizes))}. {soil} {_rules(project, ('frost',))}".strip()


def _told(project: Project) -> str:
    return _rules(project, TOLD) or "Nothing told yet."


def _rules(project: Project, words: Iterable[str]) -> str:
    """The local rules that speak of these words, as the owner was told them."""
    about = [r for r in project.site.rules if any(word in r.slug for word in words)]
    return " ".join(f"{capped(r.rule)} {r.value}, told by {r.said_by}." for r in about)


def _frame(plan: PlanInput, lettering: Lettering) -> str:
    frame = plan.frame
    wood = f"{frame.material} " if frame.material else ""
    known = frame.post_width and frame.post_depth
    posts = (
        f"posts {lettering.size(frame.post_width or 0)} × {lettering.size(frame.post_depth or 0)}"
        if known
        else f"posts {UNSTATED}"
    )
    beam = f"beam {lettering.value(frame.beam_depth, 'm')} deep" if frame.beam_depth else f"beam {UNSTATED}"
    return f"{capped(wood + posts)}, {beam}."


def _lintels(openings: Iterable[Opening], lettering: Lettering) -> str:
    return "; ".join(f"{o.id} {lettering.size(o.width)} wide, {_lintel(o, lettering)}" for o in openings) + "."


def _lintel(opening: Opening, lettering: Lettering) -> str:
    if opening.lintel_depth is None:
        return f"lintel {UNSTATED}"
    bearing = lettering.size(opening.lintel_bearing) if opening.lintel_bearing is not None else UNSTATED
    return f"lintel {lettering.size(opening.lintel_depth)} deep, bearing {bearing}"


def _roof(plan: PlanInput, lettering: Lettering) -> str:
    assert plan.roof is not None
    pitch = lettering.value(degrees(plan.roof.pitch), "deg")
    beyond = lettering.value(plan.roof.overhang, "m")
    return f"{capped(plan.roof.form)} roof at {pitch}, {beyond} beyond the wall. Rafters and ties {UNSTATED}."


def _widest(reckoning: Reckoning, lettering: Lettering) -> str:
    panel = max(reckoning.plan.panels, key=lambda p: p.centre_length)
    high = max(v for _, v in panel.outline)
    wide, tall = lettering.value(panel.centre_length, "m"), lettering.value(high, "m")
    return f"Widest panel {panel.name}: {wide} by {tall}. Ties {UNSTATED}."


def _loads(reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    figures = [f for f in reckoning.figures if f.key in LOADS or f.key.startswith(STRUCTURE)]
    if not figures:
        return []
    words = "Masses as laid or planned, without frame, roof and people. The weight of the fill is not reckoned."
    return [
        Heading(text="Loads, for review"),
        Paragraph(text=words, manner="small"),
        figure_table("Loads for review", figures, lettering),
    ]


def _open_checks(checks: Iterable[Check], lettering: Lettering) -> list[Block]:
    rows = [(capped(c.label), c.verdict, _reason(c, lettering)) for c in checks if c.verdict != "holds"]
    columns = (
        Column(title="Check", share=3.4),
        Column(title="Verdict", share=1.2),
        Column(title="By how much, or why", share=2.6),
    )
    return (
        [Heading(text="Not shown to hold"), table("Checks that are not shown to hold", columns, rows)] if rows else []
    )


def _reason(check: Check, lettering: Lettering) -> str:
    return check.not_judged or lettering.margin(check)


def _unstated(plan: PlanInput) -> tuple[str, ...]:
    bare = [o.id for o in plan.openings if o.lintel_depth is None]
    lintels = (f"the lintels of {', '.join(bare)}",) if bare else ()
    return (*not_stated(plan), *lintels)


def _signatures() -> Table:
    columns = (
        Column(title="What was looked at", share=2.4),
        Column(title="By whom, licence", share=2.4),
        Column(title="Day", share=1.0),
        Column(title="Signature", share=1.8),
    )
    return table("Looked at by", columns, [("", "", "", "")] * ROOMY, tick=True)
