"""Where and how does the wall stand? Plan, setting out, section, panel table, and one sheet a panel."""

from collections.abc import Mapping, Sequence

from cordwright.base import Caution
from cordwright.book.content import Block, CautionBox, Column, Heading, Paragraph, Picture, Row, Sheet, Table, table
from cordwright.book.drawing import Drawing
from cordwright.book.elevation_drawing import draw_elevations
from cordwright.book.formats import NB
from cordwright.book.lettering import Lettering
from cordwright.book.log_ends import draw_key, kinds_of_wood
from cordwright.book.panel_drawing import draw_panel
from cordwright.book.plan_drawing import draw_plan, draw_setting_out, drawn_marks
from cordwright.book.scale import scale_bar
from cordwright.book.section_drawing import draw_section, not_stated
from cordwright.book.sheets.laid import beside, laid_blocks, laid_pictures
from cordwright.case import Project
from cordwright.plan.inputs import Opening
from cordwright.plan.results import BuildIn, Panel, SettingOut
from cordwright.reckon import Reckoning
from cordwright.wall.nails import NAILS
from cordwright.wall.nails import PRACTICE as NAIL_PRACTICE
from cordwright.wall.results import NailKeys, PanelQuantity

MOST_MARK = 6
ABREAST = {"metric": 3, "imperial": 2}
"""So many lengths stand in one row of the setting out; inches with their fractions are wide."""
NUMBER_WORDS = (
    "Numbers begin again in every lift, whose numeral stands at both ends; lifts are grey and white in turn. "
    "A label and the list of stems say it whole: panel, lift, number."
)
SECTION_WORDS = (
    "Cut at a mortar joint of a wall under an eave, outside to the right. Levels count from the bed on the plinth. The "
    "slanting line is the roof's underside; rafters and what lies on them are not stated."
)


def bar_of(drawing: Drawing, lettering: Lettering) -> Drawing | None:
    """The bar scale that goes with a drawing to scale."""
    return scale_bar(drawing.denominator, lettering.units) if drawing.denominator else None


def plan_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """The plan with its dimensions."""
    drawing = draw_plan(project, reckoning.plan)
    unit = "feet and inches" if lettering.units == "imperial" else "millimetres"
    words = f"Sizes in {unit}: inside on the inner wall face, outside on the outer. Dashed: the eaves above."
    blocks = (
        Picture(drawing=drawing),
        Paragraph(text=words, manner="small"),
        *_openings(project.plan.openings, lettering),
    )
    return Sheet(
        mark="PLAN",
        title="Plan",
        slug="plan",
        blocks=blocks,
        aside=drawing.label.removeprefix("Plan, "),
        bar=bar_of(drawing, lettering),
    )


def _openings(openings: Sequence[Opening], lettering: Lettering) -> tuple[Block, ...]:
    """Windows, doors and holes in one list, as whoever makes or approves them reads it."""
    if not openings:
        return ()
    sign = lettering.size_sign
    heads = (("Frame, outer", 2.0), ("Sill", 1.1), ("Head", 1.1), ("Lintel deep", 1.5), ("Bearing", 1.2))
    columns = (
        Column(title="Mark", share=0.8),
        Column(title="What", share=1.6),
        Column(title="Panel", share=1.2),
        *(Column(title=f"{head} {sign}", measure=True, share=share) for head, share in heads),
    )
    rows = [_opening_row(o, lettering) for o in openings]
    return (
        Heading(text="Openings, heights above the bed"),
        table("Openings", columns, rows),
        Paragraph(text="A dash: not stated.", manner="small"),
    )


def _opening_row(opening: Opening, lettering: Lettering) -> tuple[str, ...]:
    frame = f"{lettering.size(opening.width)} × {lettering.size(opening.height)}"
    if opening.shape == "round":
        frame = f"⌀ {lettering.size(opening.width)}"
    lintel = (opening.lintel_depth, opening.lintel_bearing)
    return (
        opening.id,
        opening.use if opening.shape == "rectangle" else f"{opening.use}, {opening.shape}",
        opening.panel,
        frame,
        lettering.size(opening.sill),
        lettering.size(opening.sill + opening.height),
        *("–" if size is None else lettering.size(size) for size in lintel),
    )


def elevation_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """The building from its four sides."""
    drawings = draw_elevations(project, reckoning.plan)
    missing = [] if project.plan.roof is not None else ["the roof"]
    missing += [] if project.plan.plinth_height is not None else ["the plinth"]
    words = "Seen square from outside; what stands oblique is foreshortened. Levels count from the bed."
    words += f" Not drawn, because the file does not state it: {', '.join(missing)}." if missing else ""
    return Sheet(
        mark="SIDES",
        title="The four sides",
        slug="elevations",
        blocks=(*(Picture(drawing=d) for d in drawings), Paragraph(text=words, manner="small")),
        aside=drawings[0].label.rpartition(", ")[2],
        bar=bar_of(drawings[0], lettering),
    )


def setting_out_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """The marks to string out and every length between them."""
    drawing = draw_setting_out(project, reckoning.plan)
    left_out = len(reckoning.plan.setting_out.points) - len(drawn_marks(reckoning.plan))
    finer = "Drawn is the first division of the circle; the finer ones of the table lie on the same face."
    blocks: list[Block] = [
        Picture(drawing=drawing),
        *((Paragraph(text=finer, manner="small"),) if left_out else ()),
        Paragraph(
            text="All lengths lie on the inside wall face. Write what the tape says beside them; ring what disagrees.",
            manner="body",
        ),
        _lengths(reckoning.plan.setting_out, lettering),
    ]
    return Sheet(
        mark="SET", title="Setting out", slug="setting-out", blocks=tuple(blocks), bar=bar_of(drawing, lettering)
    )


def _lengths(setting_out: SettingOut, lettering: Lettering) -> Table:
    """Every length between two marks by its kind, three abreast with room to write."""
    part = (
        Column(title="From, to", share=1.2),
        Column(title=lettering.size_sign, measure=True, share=1.0),
        Column(title="on site", share=1.1),
    )
    abreast = ABREAST[lettering.units]
    columns = (*part, *((Column(title="", share=0.2), *part) * (abreast - 1)))
    rows: list[Row | tuple[str, ...]] = []
    for kind in dict.fromkeys(row[0] for row in setting_out.rows):
        alike = [_length(*row, lettering) for row in setting_out.rows if row[0] == kind]
        alike += [("", "", "")] * (-len(alike) % abreast)
        rows.append(Row(cells=(kind,), manner="group"))
        rows += [beside(alike[n : n + abreast]) for n in range(0, len(alike), abreast)]
    return table("Setting out", columns, rows)


def _length(_kind: str, start: str, end: str, length: float, lettering: Lettering) -> tuple[str, ...]:
    return (f"{start} – {end}".replace(" ", NB), lettering.size(length).replace(" ", NB), "")


def section_sheet(project: Project, lettering: Lettering) -> Sheet:
    """The wall cut through, from what is stated."""
    drawing = draw_section(project)
    blocks: list[Block] = [Picture(drawing=drawing)]
    missing = not_stated(project.plan)
    if missing:
        blocks.append(
            Paragraph(text=f"Not drawn, because the file does not state it: {', '.join(missing)}.", manner="small")
        )
    blocks.append(Paragraph(text=SECTION_WORDS, manner="small"))
    return Sheet(
        mark="WALL",
        title="Section, plinth to eaves",
        slug="section",
        blocks=tuple(blocks),
        aside=drawing.label.rpartition(", ")[2],
        bar=bar_of(drawing, lettering),
    )


def panels_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """All panels in two tables: lengths, then faces and volumes with their sums."""
    planned = "at the planned wood fraction" if reckoning.wall.planned else "as laid out"
    blocks: list[Block] = [
        Heading(text="Clear lengths"),
        _length_table(reckoning.plan.panels, lettering),
        Heading(text=f"Faces and volumes, {planned}"),
        _face_table(reckoning, lettering),
        Paragraph(
            text="Volumes as they stand in the wall, without waste. Openings are frame outer sizes.", manner="small"
        ),
    ]
    if reckoning.layout is not None:
        key = draw_key(kinds_of_wood(reckoning.timber.stock.species), "key")
        blocks += [Heading(text="Marks on the sheets of the panels"), Picture(drawing=key)]
        blocks.append(Paragraph(text=NUMBER_WORDS, manner="small"))
    if reckoning.wall.curved_joints:
        blocks += [Heading(text="Joints of a curved wall"), _curved_table(reckoning, lettering)]
    return Sheet(mark="ALL", title="All panels", slug="panels", blocks=tuple(blocks))


def _length_table(panels: Sequence[Panel], lettering: Lettering) -> Table:
    sign = lettering.size_sign
    heads = (f"Inner {sign}", f"Centre {sign}", f"Outer {sign}", f"Height {sign}")
    columns = (
        Column(title="Panel", share=1.2),
        *(Column(title=h, measure=True, share=1.6) for h in heads),
        Column(title="Openings", share=1.5),
    )
    rows = [
        (
            p.name,
            *(
                lettering.size(v)
                for v in (p.inner_length, p.centre_length, p.outer_length, max(v for _, v in p.outline))
            ),
            ", ".join(o.opening.id for o in p.openings),
        )
        for p in panels
    ]
    return table("Clear lengths of the panels", columns, rows)


def _face_table(reckoning: Reckoning, lettering: Lettering) -> Table:
    area, volume = lettering.sign("m2"), lettering.sign("m3")
    heads = (f"Gross {area}", f"Openings {area}", f"Net {area}", f"Wood {volume}", f"Mortar {volume}", f"Fill {volume}")
    columns = (Column(title="Panel", share=1.2), *(Column(title=h, measure=True) for h in heads))
    takes = {q.panel: q for q in reckoning.wall.panels}
    numbers = [_face_numbers(p, takes) for p in reckoning.plan.panels]
    units = ("m2", "m2", "m2", "m3", "m3", "m3")
    rows = [
        Row(cells=(p.name, *(lettering.bare(v, u, 2) for v, u in zip(row, units, strict=True))))
        for p, row in zip(reckoning.plan.panels, numbers, strict=True)
    ]
    sums = [
        None if any(v is None for v in column) else sum(v for v in column if v is not None)
        for column in zip(*numbers, strict=True)
    ]
    total = Row(
        cells=("Together", *(lettering.bare(v, u, 2) for v, u in zip(sums, units, strict=True))), manner="total"
    )
    return table("Faces and volumes of the panels", columns, [*rows, total])


def _face_numbers(panel: Panel, takes: Mapping[str, PanelQuantity]) -> tuple[float | None, ...]:
    take = takes.get(panel.name)
    volumes = (take.wood_volume, take.mortar_volume, take.fill_volume) if take else (None, None, None)
    return (panel.gross_area, panel.openings_area, panel.net_area, *volumes)


def _curved_table(reckoning: Reckoning, lettering: Lettering) -> Table:
    sign = lettering.size_sign
    columns = (
        Column(title="Panel"),
        *(Column(title=f"{h} {sign}", measure=True) for h in ("Log end", "Inner joint", "Outer joint")),
    )
    rows = [
        (j.panel, *(lettering.size(v) for v in (j.log_diameter, j.inner, j.outer)))
        for j in reckoning.wall.curved_joints
    ]
    return table("Joints at the two faces of a curved panel", columns, rows)


def panel_mark(name: str, index: int) -> str:
    """What stands in the big box: the panel's own short name, or its place in the walk around."""
    flat = " ".join(name.split())
    return flat.upper() if 0 < len(flat) <= MOST_MARK else f"P{index + 1}"


def panel_sheets(
    project: Project, reckoning: Reckoning, lettering: Lettering, slugs: Sequence[str]
) -> tuple[Sheet, ...]:
    """One sheet a panel: the face from inside, laid where it is, and what is built in while it rises."""
    return tuple(
        _panel_sheet(
            panel,
            n,
            _drawings(project, reckoning, panel, f"panel-{slugs[n]}"),
            (
                *_panel_blocks(project, reckoning, panel, lettering),
                *laid_blocks(project, reckoning, panel, f"panel-{slugs[n]}", lettering),
            ),
            lettering,
        )
        for n, panel in enumerate(reckoning.plan.panels)
    )


def _drawings(project: Project, reckoning: Reckoning, panel: Panel, name: str) -> tuple[Drawing, ...]:
    """The panel with its log ends, or bare when it is only planned."""
    laid = laid_pictures(project, reckoning, panel, name)
    return tuple(p.drawing for p in laid) or draw_panel(project, panel, name)


def _panel_sheet(
    panel: Panel, n: int, drawings: tuple[Drawing, ...], blocks: tuple[Block, ...], lettering: Lettering
) -> Sheet:
    """A panel's sheet; its slug is that of the drawing in one piece, whatever bays it is drawn in."""
    drawing = drawings[0]
    return Sheet(
        mark=panel_mark(panel.name, n),
        title=f"Panel {panel.name}, seen from inside",
        slug=drawing.name.removesuffix("-bay-1"),
        blocks=(*(Picture(drawing=d) for d in drawings), *blocks),
        aside=f"{drawing.label.rpartition(', ')[2]} · {lettering.value(panel.net_area, 'm2')} to lay",
        bar=bar_of(drawing, lettering),
    )


def _panel_blocks(project: Project, reckoning: Reckoning, panel: Panel, lettering: Lettering) -> tuple[Block, ...]:
    blocks: list[Block] = [_built_in(reckoning, panel, lettering)]
    blocks += [Paragraph(text=_nail_words(k, lettering)) for k in reckoning.wall.nail_keys if k.panel == panel.name]
    gap = project.plan.wall_head_gap
    if gap:
        room = lettering.value(gap, "m")
        words = f"Leave {room} between panel and beam and fill it with something soft: no mortar there."
        blocks.append(Paragraph(text=words))
    return tuple(blocks)


def _nail_words(keys: NailKeys, lettering: Lettering) -> str:
    """Nails that key the mortar where the joints open: where, how many and that the number is only usual."""
    tag = lettering.tag((NAIL_PRACTICE,))
    joint = lettering.value(keys.joint, "m")
    return (
        f"At the {keys.face} face joints open up to {joint}. Beside each joint wider than your largest, half drive "
        f"{NAILS[1]} nails ({NAILS[0]} to {NAILS[-1]}) into the log end there, heads in the mortar: about {keys.nails} "
        f"in this panel if every log end needs them {tag}"
    )


def _built_in(reckoning: Reckoning, panel: Panel, lettering: Lettering) -> Block:
    heads = (f"{h} {lettering.size_sign}" for h in ("Size", "Above bed", "From left"))
    columns = (
        Column(title="Mark", share=0.9),
        Column(title="Build in", share=2.6),
        *(Column(title=h, measure=True, share=1.4) for h in heads),
    )
    rows = [
        (b.mark, b.what, _size(b, lettering), lettering.size(b.bottom), lettering.size(b.from_left))
        for b in reckoning.plan.build_in
        if b.panel == panel.name
    ]
    if not rows:
        return Paragraph(text="Nothing is built into this panel.")
    return table("Build in while the panel rises, lowest first", columns, rows, tick=True)


def _size(line: BuildIn, lettering: Lettering) -> str:
    return " × ".join(lettering.size(s) for s in line.sizes) or line.size


def caution_box(caution: Caution) -> CautionBox:
    """A caution as it stands on a sheet."""
    return CautionBox(harm=caution.harm, do=caution.do, decides=caution.decides)
