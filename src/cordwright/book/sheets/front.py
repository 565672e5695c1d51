"""Could I? The first sheets: the answer with every check against one plumb line, and what to ask before digging."""

from collections.abc import Iterable, Iterator
from typing import Final

from cordwright.base import Check, Figure
from cordwright.book.content import Block, Column, Contents, Entry, Heading, Items, Lath, Laths, Paragraph, Sheet, table
from cordwright.book.lettering import Lettering, capped
from cordwright.book.season_words import first_words, missing_words
from cordwright.book.small_drawings import LATH_WIDTH, LIMIT, draw_lath, vial
from cordwright.case import Project
from cordwright.idea import AUTHORITY_QUESTIONS, INSURER_QUESTIONS
from cordwright.reckon import Reckoning
from cordwright.site.inputs import SiteInput

KEY_FIGURES: Final = (
    "plan.inner_area",
    "plan.gross_wall_area",
    "plan.openings_area",
    "plan.net_wall_area",
    "roof.slope_area",
    "timber.log_ends",
    "timber.face_area",
    "timber.coverage",
    "timber.solid_volume",
    "timber.ready_date",
    "mortar.volume",
    "wall.fill_volume",
    "mortar.cement",
    "mortar.lime",
    "mortar.damp_sand_volume",
    "mortar.batches",
    "heat.peak_load",
    "heat.firewood_stacked",
    "cost.wall_materials",
    "cost.total",
)

NOT_LAID: Final = "The wall laid out log by log: no sizes of log ends are known, or the book was made without studies."

LEFT_OUT: Final = (
    "Daylight, air, flue and power.",
    "Posts, beams, footing and frost protection.",
)
"""What this book does not say, because the tool does not reckon it yet."""

FIRST_LINES: Final = (
    ("By the diary: one person lays {}, and {} of laying are left for one.", ("diary.pace", "diary.days_left")),
    ("Cost: {} for everything on the price list.", ("cost.total",)),
    (
        "Warmth: {} on the coldest days, and {} of stacked firewood a year.",
        ("heat.peak_load", "heat.firewood_stacked"),
    ),
)
"""What the first sheet says of own days, money and warmth, with the figures that fill it."""

NO_CHECK: Final = "No check could be made."
MOST_FIRST: Final = 2
"""So many laths on the first sheet at most: the contents stand on it too."""
LINE_WORDS: Final = "Left of the plumb line there is enough; what runs past it is short. Striped ends show the spread."


def cover(project: Project, reckoning: Reckoning, lettering: Lettering, entries: tuple[Entry, ...]) -> Sheet:
    """The answer first: what it is, what is short, and where in the book everything stands."""
    pressing = [c for c in reckoning.checks if c.verdict in ("short", "close")]
    blocks: list[Block] = [
        Paragraph(text=_what_it_is(project, reckoning, lettering), manner="lead"),
        *(Paragraph(text=text) for text in _time(project, reckoning)),
        *(Paragraph(text=text) for text in _money_and_warmth(reckoning, lettering)),
        Paragraph(text=_verdicts(reckoning.checks)),
    ]
    if pressing:
        blocks += [laths(pressing, lettering, "first-", most=MOST_FIRST), Paragraph(text=LINE_WORDS, manner="small")]
    blocks += [Heading(text="Sheets of this book"), Contents(entries=entries)]
    left_out = (*(() if reckoning.layout else (NOT_LAID,)), *LEFT_OUT)
    blocks.append(Paragraph(text=f"No sheet yet for: {' '.join(left_out)}", manner="small"))
    return Sheet(
        mark="FIRST",
        title=project.name or "A cordwood building",
        slug="first",
        blocks=tuple(blocks),
        aside=_place(project),
    )


def checks_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Every check against one plumb line, and the figures a builder asks first."""
    blocks: list[Block] = [Heading(text="Key figures"), figure_table("Key figures", key_figures(reckoning), lettering)]
    if reckoning.checks:
        blocks += [Heading(text="Every check"), laths(reckoning.checks, lettering)]
        blocks += [Paragraph(text=LINE_WORDS, manner="small")]
    else:
        blocks.append(Paragraph(text=NO_CHECK))
    return Sheet(mark="SUMS", title="Key figures, and what holds", slug="sums", blocks=tuple(blocks))


def _time(project: Project, reckoning: Reckoning) -> tuple[str, ...]:
    """By when, in plain words: the answer that changes most builds."""
    if reckoning.season is None:
        return (missing_words(reckoning),)
    return first_words(project, reckoning.season)


def _money_and_warmth(reckoning: Reckoning, lettering: Lettering) -> Iterator[str]:
    """What it costs and what keeps it warm, a line each; what is not known says so."""
    known = {f.key: f for f in reckoning.figures}
    for words, keys in FIRST_LINES:
        if all(key in known for key in keys):
            yield words.format(*(lettering.figure(known[key]) for key in keys))


def _place(project: Project) -> str:
    return project.site.place


def _what_it_is(project: Project, reckoning: Reckoning, lettering: Lettering) -> str:
    count = len(reckoning.plan.panels)
    net = next((f for f in reckoning.figures if f.key == "plan.net_wall_area"), None)
    wall = f"{lettering.middle(net)} of wall" if net is not None and net.value is not None else "Wall"
    length = lettering.value(project.plan.section.log_end_length, "m")
    return f"{wall} in {count} {'panel' if count == 1 else 'panels'}, log ends of {length}."


def _verdicts(checks: Iterable[Check]) -> str:
    said = []
    for word, one, many in (
        ("short", "is short", "are short"),
        ("close", "is close", "are close"),
        ("holds", "holds", "hold"),
        ("not judged", "is not judged", "are not judged"),
    ):
        names = [c.label for c in checks if c.verdict == word]
        if names:
            said.append(
                f"{len(names)} {'check' if len(names) == 1 else 'checks'} {one if len(names) == 1 else many}"
                + (f" ({'; '.join(names)})" if word == "short" else "")
            )
    return ", ".join(said).capitalize() + "." if said else NO_CHECK


def laths(checks: Iterable[Check], lettering: Lettering, mark: str = "", most: int | None = None) -> Laths:
    """Every check as a lath, the short ones first, so many at most; `mark` keeps the drawings of two sheets apart."""
    order = {"short": 0, "close": 1, "holds": 2, "not judged": 3}
    ranked = sorted(checks, key=lambda c: order[c.verdict])[:most]
    return Laths(
        rows=tuple(_lath(c, f"{mark}{n}", lettering) for n, c in enumerate(ranked, start=1)), line_at=LIMIT / LATH_WIDTH
    )


def _lath(check: Check, n: str, lettering: Lettering) -> Lath:
    demand, capacity = ("" if v is None else lettering.value(v, check.unit) for v in (check.demand, check.capacity))
    spread = ""
    if check.low is not None and check.high is not None and check.low != check.high:
        spread = f" ({lettering.value(check.low, check.unit)} to {lettering.value(check.high, check.unit)})"
    sentence = (
        f"{demand}{spread} against {capacity}. {lettering.tag(check.sources)}"
        if demand and capacity
        else lettering.tag(check.sources)
    )
    return Lath(
        name=capped(check.label),
        sentence=sentence.strip(),
        bar=draw_lath(check, f"lath-{n}"),
        vial=vial(check.verdict, f"vial-{n}"),
        word=check.verdict,
        margin=lettering.margin(check).removeprefix("short "),
        short=check.verdict == "short",
    )


def key_figures(reckoning: Reckoning) -> tuple[Figure, ...]:
    """The figures a builder asks first, as far as there are any."""
    known = {f.key: f for f in reckoning.figures}
    return tuple(known[k] for k in KEY_FIGURES if k in known)


def figure_table(label: str, figures: Iterable[Figure], lettering: Lettering) -> Block:
    """Figures with their spread and the numbers of their sources."""
    columns = (
        Column(title="What", share=3.6),
        Column(title="Figure", measure=True, share=1.6),
        Column(title="Spread", measure=True, share=1.9),
        Column(title="From", share=1.5),
    )
    rows = [(capped(f.label), lettering.middle(f), lettering.spread(f), lettering.tag(f.sources)) for f in figures]
    return table(label, columns, rows)


def _site(site: SiteInput, lettering: Lettering) -> tuple[Block, ...]:
    """Where it stands, in one line; nothing where nothing is stated."""
    known = [
        site.place,
        _angle(site.latitude, "N", "S", lettering),
        _angle(site.longitude, "E", "W", lettering),
        _height(site.elevation, lettering),
        f"soil: {site.soil}" if site.soil else "soil not stated",
    ]
    return (Heading(text="The site"), Paragraph(text="; ".join(words for words in known if words) + "."))


def _height(elevation: float | None, lettering: Lettering) -> str:
    return "" if elevation is None else f"{lettering.bare(elevation, 'm', 0)} {lettering.sign('m')} above the sea"


def _angle(degrees: float | None, positive: str, negative: str, lettering: Lettering) -> str:
    if degrees is None:
        return ""
    return f"{lettering.count(abs(degrees))}° {positive if degrees >= 0 else negative}"


def rules_and_questions(project: Project, lettering: Lettering) -> Sheet:
    """What somebody told the owner, and what to ask before the first spade."""
    columns = (
        Column(title="Rule", share=2.2),
        Column(title="Value", share=2.2),
        Column(title="Who said it", share=2.2),
        Column(title="When", share=1.6),
        Column(title="From", share=0.8),
    )
    rows = [
        (r.rule, r.value, r.said_by, lettering.value(r.said_on, "date"), lettering.tag((r.cite,)))
        for r in project.site.rules
    ]
    told: Block = table("Local rules", columns, rows) if rows else Paragraph(text="The file states no local rule yet.")
    blocks: tuple[Block, ...] = (
        Paragraph(
            text="Rules are taken as somebody told them; nothing is looked up and nothing is assumed.", manner="aside"
        ),
        *_site(project.site, lettering),
        Heading(text="What you were told"),
        told,
        Heading(text="Ask the authority"),
        Items(items=AUTHORITY_QUESTIONS, tick=True),
        Heading(text="Ask the insurer"),
        Items(items=INSURER_QUESTIONS, tick=True),
    )
    return Sheet(mark="ASK", title="Local rules, and what to ask", slug="ask", blocks=blocks)
