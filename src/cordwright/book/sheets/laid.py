"""How is each panel laid, which log goes where, and what must stand ready for each lift?"""

from collections.abc import Mapping, Sequence
from typing import Final

from cordwright.base.units import FOOT
from cordwright.book.content import Block, Column, Heading, Paragraph, Picture, Row, Sheet, Table, table
from cordwright.book.formats import NB
from cordwright.book.laid_drawing import draw_laid_panel, draw_lifts
from cordwright.book.lettering import Lettering, counted
from cordwright.book.lift_bands import numbers_in_lifts
from cordwright.book.log_ends import kinds_of_wood
from cordwright.book.needs_page import litres, supplies_of
from cordwright.case import Project
from cordwright.plan.results import Panel
from cordwright.reckon import Reckoning
from cordwright.timber.results import Stock
from cordwright.wall.day import Needs, day_needs, needs_of
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import PanelLayout
from cordwright.wall.placed import PlacedPanel

TOGETHER = {"metric": 5, "imperial": 4}
"""So many logs stand in one row of the list of a panel's logs; inches with their fractions are wide."""


MOST_IN_LINE: Final = 40
"""A stem of no more log ends has a line of its own; a pile of more is set as a table."""
PILE_ABREAST: Final = 4
DASH: Final = "–"
Stem = tuple[str, list[str]]


def layouts_of(reckoning: Reckoning) -> Mapping[str, PanelLayout]:
    """The laid panels by name; none when the wall is only planned."""
    return {p.face.name: p for p in reckoning.layout.panels} if reckoning.layout is not None else {}


def rings_of_wood(stock: Stock) -> dict[str, int]:
    """By log id, which ring tells its wood; an unknown wood has none."""
    kinds = kinds_of_wood(stock.species)
    return {name: kinds.index(wood) for name, wood in zip(stock.id, stock.species, strict=True) if wood in kinds}


def laid_pictures(project: Project, reckoning: Reckoning, panel: Panel, name: str) -> tuple[Picture, ...]:
    """The laid panel seen from inside, in bays where it is long; none when it is only planned."""
    layout = layouts_of(reckoning).get(panel.name)
    if layout is None or not layout.placements:
        return ()
    rings = rings_of_wood(reckoning.timber.stock)
    return tuple(Picture(drawing=d) for d in draw_laid_panel(project, panel, layout, rings, name))


def laid_blocks(
    project: Project, reckoning: Reckoning, panel: Panel, name: str, lettering: Lettering
) -> tuple[Block, ...]:
    """What stands under the laid panel: its joint, what lifts and days take, the lifts one by one, every log's stem."""
    layout, placed = layouts_of(reckoning).get(panel.name), _placed(reckoning, panel.name)
    if layout is None or placed is None or not layout.placements:
        return ()
    rings = rings_of_wood(reckoning.timber.stock)
    return (
        Paragraph(text=_joint_words(layout, placed, lettering)),
        Heading(text="What each lift takes, waste included"),
        lift_table(project, reckoning, placed, lettering),
        Heading(text="Lift by lift"),
        Paragraph(text="Lay the numbers in their order; what is grey stands already.", manner="small"),
        *(Picture(drawing=d) for d in draw_lifts(project, panel, layout, rings, name)),
        Heading(text="Which log is which"),
        log_table(layout, lettering),
    )


def _placed(reckoning: Reckoning, name: str) -> PlacedPanel | None:
    panels = reckoning.wall.placed.panels if reckoning.wall.placed is not None else ()
    return next((p for p in panels if p.panel == name), None)


def _joint_words(layout: PanelLayout, placed: PlacedPanel, lettering: Lettering) -> str:
    joint = lettering.value(layout.report.joint_nominal, "m")
    chips = sum("chip" in p.supports for p in layout.placements)
    words = f"Joint {joint} between log ends. {len(layout.placements)} log ends, {chips} of them on a chip"
    stones = sum(f.stones for f in layout.fillers)
    words += f", {stones} stones in gaps, one in a bead." if stones else "."
    if placed.carried is not None:
        rest = lettering.value(placed.carried.face_area, "m2")
        words += f" {rest} are not laid: the stock is short. The table carries them at the mean of the laid part."
    return words


def lift_table(project: Project, reckoning: Reckoning, placed: PlacedPanel, lettering: Lettering) -> Table:
    """A row a lift, one for what is not laid, their sum, and what one square metre takes."""
    supplies = supplies_of(project, reckoning.mix)
    area, mass = lettering.sign("m2"), lettering.sign("kg")
    heads = (f"Face {area}", "Log ends", f"{mass}", "Mortar", "Batches", f"Cement {mass}", f"Lime {mass}", "Fill")
    columns = (Column(title="Lift", share=1.3), *(Column(title=h, measure=True) for h in heads))
    rows = [_row(str(f.number), needs_of("", f.logs, f.taken, supplies), project, lettering) for f in placed.lifts]
    if placed.carried is not None:
        rows.append(_row("Not laid", needs_of("", (), placed.carried, supplies), project, lettering))
    every = tuple(name for lift in placed.lifts for name in lift.logs)
    total = _row("Together", needs_of("", every, placed.whole, supplies), project, lettering)
    wanted = FOOT**2 * 10 if project.units == "imperial" else 1.0
    name = f"A day of {lettering.value(wanted, 'm2')}"
    day = _row(name, day_needs(placed, wanted, supplies), project, lettering)
    return table(
        f"What the lifts of panel {placed.panel} take", columns, [*rows, Row(cells=total, manner="total"), day]
    )


def _row(name: str, needs: Needs, project: Project, lettering: Lettering) -> tuple[str, ...]:
    return (
        name,
        lettering.bare(needs.area, "m2", 2),
        str(len(needs.logs)) if needs.logs else "–",
        lettering.bare(needs.log_mass if needs.logs else None, "kg", 0),
        litres(project, needs.mortar),
        lettering.bare(needs.batches, "", 1),
        lettering.bare(needs.cement, "kg", 1),
        lettering.bare(needs.lime, "kg", 1),
        litres(project, needs.fill),
    )


def log_table(layout: PanelLayout, lettering: Lettering) -> Table:
    """Every log of a panel by lift and number: its id, which names its stem, and its diameter."""
    numbers = numbers_in_lifts(layout.placements)
    heads = (("No", 0.6), ("Log", 1.3), (lettering.size_sign, 0.9 if lettering.units == "metric" else 1.5))
    triple = tuple(Column(title=title, measure=n == 2, share=share) for n, (title, share) in enumerate(heads))
    gap = Column(title="", share=0.25)
    abreast = TOGETHER[lettering.units]
    columns = (*triple, *((gap, *triple) * (abreast - 1)))
    rows: list[Row | tuple[str, ...]] = []
    for lift in sorted({p.lift for p in layout.placements}):
        logs = sorted((p for p in layout.placements if p.lift == lift), key=lambda p: p.order)
        rows.append(Row(cells=(f"Lift {lift}",), manner="group"))
        cells = [(numbers[p.log.id], p.log.id, lettering.size(p.log.diameter).replace(" ", NB)) for p in logs]
        cells += [("", "", "")] * (-len(cells) % abreast)
        rows += [beside(cells[n : n + abreast]) for n in range(0, len(cells), abreast)]
    return table(f"Logs of panel {layout.face.name}", columns, rows)


def beside(cells: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """Several short rows in one, a gap between them."""
    return (*cells[0], *(text for each in cells[1:] for text in ("", *each)))


def stems_sheet(reckoning: Reckoning, lettering: Lettering) -> tuple[Sheet, ...]:
    """Which ends of each stem go where, and what is left over; no sheet when nothing is laid."""
    if reckoning.layout is None:
        return ()
    places = _places(reckoning.layout)
    stems: dict[str, list[str]] = {}
    for log in reckoning.layout.stock:
        stems.setdefault(log.stem, []).append(log.id)
    ordered = sorted(stems.items(), key=lambda pair: counted(pair[0]))
    few = [pair for pair in ordered if len(pair[1]) <= MOST_IN_LINE]
    many = [pair for pair in ordered if len(pair[1]) > MOST_IN_LINE]
    sizes = {log.id: log.diameter for log in reckoning.layout.stock}
    left = [f"{name} ({lettering.size(sizes[name])})" for name in reckoning.layout.unused if name in sizes]
    blocks: tuple[Block, ...] = (
        Paragraph(text="Log end: panel lift-number. A dash: left over.", manner="small"),
        *((_stem_lines(few, places),) if few else ()),
        *((_pile_table(many, places),) if many else ()),
        Heading(text=f"Left over, culls and spares included: {len(reckoning.layout.unused)}"),
        Paragraph(text=", ".join(words.replace(" ", NB) for words in left) or "None.", manner="small"),
    )
    return (Sheet(mark="STEMS", title="From stem to wall", slug="stems", blocks=blocks),)


def _places(layout: LayoutStudy) -> dict[str, str]:
    """Where each laid log goes: panel, lift and number."""
    found: dict[str, str] = {}
    for panel in layout.panels:
        numbers = numbers_in_lifts(panel.placements)
        found |= {p.log.id: f"{panel.face.name} {p.lift}-{numbers[p.log.id]}" for p in panel.placements}
    return found


def _bare(log: str, stem: str) -> str:
    """The log's own number within its stem."""
    return log.removeprefix(stem).lstrip("-.") or log


def _stem_lines(stems: Sequence[Stem], places: Mapping[str, str]) -> Table:
    """A row a stem, its log ends from the butt."""
    columns = (Column(title="Stem", share=0.7), Column(title="Log ends from the butt", share=7))
    rows = [
        (
            stem,
            ", ".join(
                f"{_bare(log, stem)}: {places.get(log, DASH)}".replace(" ", NB) for log in sorted(logs, key=counted)
            ),
        )
        for stem, logs in stems
    ]
    return table("Which log end of each stem goes where", columns, rows, tick=True)


def _pile_table(piles: Sequence[Stem], places: Mapping[str, str]) -> Table:
    """Piles and bundles too large for a line: log and place, several abreast."""
    pair = (Column(title="Log", share=1.0), Column(title="Goes to", share=1.5))
    columns = (*pair, *((Column(title="", share=0.2), *pair) * (PILE_ABREAST - 1)))
    rows: list[Row | tuple[str, ...]] = []
    for stem, logs in piles:
        cells = [(_bare(log, stem), places.get(log, DASH).replace(" ", NB)) for log in sorted(logs, key=counted)]
        cells += [("", "")] * (-len(cells) % PILE_ABREAST)
        rows.append(Row(cells=(stem,), manner="group"))
        rows += [beside(cells[n : n + PILE_ABREAST]) for n in range(0, len(cells), PILE_ABREAST)]
    return table("Which log of each pile goes where", columns, rows)
