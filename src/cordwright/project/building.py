"""How do the tables of the file become the inputs of the stages, in SI and in the frames those document?"""

import math
from collections.abc import Mapping
from typing import Final

from cordwright.base import Cite
from cordwright.base.slugs import free_slug
from cordwright.mortar.inputs import MixPart, MortarInput, Pat
from cordwright.mortar.materials import as_measured
from cordwright.mortar.sand_inputs import SandInput
from cordwright.plan.inputs import (
    BottleGroup,
    Corners,
    Frame,
    Head,
    Opening,
    PanelSpec,
    PlanInput,
    Post,
    Roof,
    Sleeve,
    WallSection,
)
from cordwright.project.document import Document
from cordwright.project.faults import Findings, nearest, shown
from cordwright.project.outlines import read_outline
from cordwright.project.quantity import read_figure
from cordwright.project.schema import (
    BottleTable,
    CornersTable,
    ForecastTable,
    FrameTable,
    MixTable,
    OpeningTable,
    PanelTable,
    PartTable,
    PlanTable,
    PlinthTable,
    PostTable,
    RoofTable,
    RuleTable,
    SiteTable,
    SleeveTable,
    WallTable,
)
from cordwright.project.supplies import Folder
from cordwright.project.weather_files import file_months, station_weather
from cordwright.site.climate import DayWeather, MonthlyNormals
from cordwright.site.inputs import LocalRule, SiteInput
from cordwright.wall.inputs import Fill, Joints, WallInput, Wishes

WOOD_FRACTION_SPREAD: Final = 0.05
"""How far the wood fraction of a laid wall may lie from the planned one when the owner states no spread."""
SPREAD_SOURCE: Final = Cite("wood-fraction-spread")


def site_input(document: Document, folder: Folder, findings: Findings) -> SiteInput | None:
    """Give the place and its rules; None if a table or the weather file has a fault."""
    if not document.sound("site", "rules", "forecast"):
        return None
    site = document.one("site", SiteTable) or SiteTable()
    stated = dict(site)
    months, table = stated.pop("months"), stated.pop("weather")
    weather = station_weather(site, folder, findings)
    if table is not None and weather is None:
        return None
    return SiteInput(
        **stated,
        rules=_rules(document.many("rules", RuleTable)),
        months=MonthlyNormals(**dict(months)) if months is not None else file_months(weather, folder.echo),
        weather=weather,
        forecast=tuple(DayWeather(**dict(day)) for day in document.many("forecast", ForecastTable)),
    )


def _rules(tables: tuple[RuleTable, ...]) -> tuple[LocalRule, ...]:
    """Give each rule its slug; a second rule of the same name gets a number."""
    rules: list[LocalRule] = []
    taken: set[str] = set()
    for table in tables:
        slug = free_slug(table.rule, taken, "rule")
        taken.add(slug)
        number, unit = read_figure(table.value) or (None, "")
        rules.append(
            LocalRule(
                slug=slug,
                rule=table.rule,
                value=table.value,
                said_by=table.said_by,
                said_on=table.date,
                number=number,
                unit=unit,
                limits=table.limits,
                sense=table.sense,
            )
        )
    return tuple(rules)


def plan_input(document: Document, findings: Findings) -> PlanInput | None:
    """Give the plan; None if a table it needs has a fault."""
    plan = document.one("plan", PlanTable)
    found = read_outline(plan, findings) if plan else None
    section = _section(document.one("wall", WallTable), findings)
    sound = document.sound("plinth", "frame", "corners", "posts", "panels", "openings", "sleeves", "bottles", "roof")
    if plan is None or found is None or section is None or not sound:
        return None
    outline, side_names = found
    plinth = document.one("plinth", PlinthTable) or PlinthTable()
    return PlanInput(
        outline=outline,
        section=section,
        height=plan.height,
        north=plan.north,
        side_names=side_names,
        post_allowance=plan.post_allowance,
        panels=tuple(_panel(panel) for panel in document.many("panels", PanelTable)),
        frame=_frame(document),
        corners=Corners(**dict(document.one("corners", CornersTable) or CornersTable())),
        openings=tuple(Opening(**dict(opening)) for opening in document.many("openings", OpeningTable)),
        sleeves=tuple(Sleeve(**dict(sleeve)) for sleeve in document.many("sleeves", SleeveTable)),
        bottles=tuple(BottleGroup(**dict(group)) for group in document.many("bottles", BottleTable)),
        wall_head_gap=plan.wall_head_gap,
        opening_slack=plan.opening_slack,
        plinth_height=plinth.height,
        plinth_width=plinth.width,
        floor_above_ground=plan.floor_above_ground,
        ceiling_height=plan.ceiling_height,
        roof=_roof(document.one("roof", RoofTable), plan.north),
    )


def _section(wall: WallTable | None, findings: Findings) -> WallSection | None:
    if wall is None:
        return None
    if 2 * wall.proud >= wall.log_end_length:
        message = (
            f"two faces {wall.proud * 1000:g} mm proud leave nothing of a {wall.log_end_length * 1000:g} mm log end"
        )
        findings.add("wall.proud", message, f"less than {wall.log_end_length * 500:g} mm")
        return None
    return WallSection(log_end_length=wall.log_end_length, bead=wall.bead, proud=wall.proud)


def _frame(document: Document) -> Frame:
    frame = document.one("frame", FrameTable) or FrameTable()
    return Frame(**dict(frame), posts=tuple(Post(**dict(post)) for post in document.many("posts", PostTable)))


def _panel(panel: PanelTable) -> PanelSpec:
    head = Head(
        kind=panel.head, rise=panel.rise, peak_from_left=panel.peak_from_left, left=panel.left, right=panel.right
    )
    return PanelSpec(name=panel.name, head=head, post_allowance=panel.post_allowance)


def _roof(roof: RoofTable | None, north: float) -> Roof | None:
    """Turn the ridge's compass bearing into one from plan up, which itself lies at `north` from true north [rad]."""
    if roof is None:
        return None
    ridge = None if roof.ridge is None else (roof.ridge - north) % (2 * math.pi)
    return Roof(form=roof.form, pitch=roof.pitch, overhang=roof.overhang, ridge=ridge)


def wall_input(wall: WallTable | None, wishes: Wishes | None, echo: list[str]) -> WallInput | None:
    """Give joints, wood fraction, fill and wishes; None if a table has a fault."""
    if wall is None or wishes is None:
        return None
    low, high = wall.wood_fraction_low, wall.wood_fraction_high
    if low is None and high is None:
        low, high = _assumed_spread(wall.wood_fraction)
        echo.append(f"wall.wood_fraction: no spread stated; {low:.0%} to {high:.0%} assumed".replace("%", " %"))
    return WallInput(
        joints=Joints(**dict(wall.joints)),
        wood_fraction=wall.wood_fraction,
        wood_fraction_low=wall.wood_fraction if low is None else low,
        wood_fraction_high=wall.wood_fraction if high is None else high,
        fill=Fill(**dict(wall.fill)) if wall.fill else Fill(),
        wishes=wishes,
    )


def _assumed_spread(fraction: float) -> tuple[float, float]:
    """Five points to each side, staying between nothing and all.

    Sources: assumption (`SPREAD_SOURCE`).
    """
    spread = min(WOOD_FRACTION_SPREAD, fraction / 2, (1 - fraction) / 2)
    return round(fraction - spread, 6), round(fraction + spread, 6)


def mortar_input(document: Document, sands: tuple[SandInput, ...], findings: Findings) -> MortarInput | None:
    """Give the mix and the sands at hand; None if a table has a fault."""
    if not document.sound("mix", "sands"):
        return None
    mix: Mapping[str, object] = dict(document.one("mix", MixTable) or MixTable())
    stated = document.one("mix", MixTable) or MixTable()
    parts = tuple(_part(f"mix.parts[{i}].sand", part, sands, findings) for i, part in enumerate(stated.parts))
    pats = tuple(Pat(**dict(pat)) for pat in stated.pats)
    return MortarInput(**{**mix, "parts": parts, "pats": pats, "sands": sands})  # type: ignore[arg-type]


def _part(field: str, table: PartTable, sands: tuple[SandInput, ...], findings: Findings) -> MixPart:
    """Give one material of the mix; what it does not state of its sand comes from the sand it names."""
    part = MixPart(**dict(table))
    if not part.sand:
        return part
    if part.kind != "sand":
        findings.add(field, f"{part.name} is {part.kind} and names a sand", 'only a part of kind = "sand" does')
        return part
    chosen = next((sand for sand in sands if sand.name == part.sand), None)
    if chosen is None:
        names = [sand.name for sand in sands]
        hint = nearest(part.sand, names) if names else "the file has no [[sands]]: state it there first"
        findings.add(field, f"there is no sand {shown(part.sand)}", hint)
        return part
    return as_measured(part, chosen)
