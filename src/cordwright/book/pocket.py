"""What goes to site on the phone? One file that opens from its storage: panels in laying order, batch card, diary.

The page asks for nothing outside itself. Without scripts it is a list of logs and a drawing of each panel; with them it
shows the next log, keeps the diary, and gives its entries back as a file (docs/guide.md tells their form).
"""

import base64
import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import Any, Final, get_args

from markupsafe import Markup

from cordwright.base import Caution
from cordwright.base.records import Covering
from cordwright.book.content import MixCard
from cordwright.book.formats import show_value
from cordwright.book.html_backend import page_environment
from cordwright.book.lift_bands import numbers_in_lifts
from cordwright.book.pocket_drawing import draw_pocket_panel, to_sheet
from cordwright.book.svg import to_svg
from cordwright.case import Project
from cordwright.diary.days import LAYING
from cordwright.mortar.batch_card import tubs
from cordwright.plan.results import Panel
from cordwright.wall.layout import PanelLayout, Placement

TEMPLATE: Final = "pocket.html.j2"
STYLE: Final = "pocket.css"
SCRIPT: Final = "pocket.js"
SCHEMA: Final = 1
TRADES: Final = (
    LAYING,
    "felling",
    "peeling",
    "cutting",
    "stacking",
    "ground",
    "plinth",
    "frame",
    "roof",
    "pointing",
    "floor",
    "windows",
    "other",
)
"""Whose hours they were; laying first, for that is the day's usual work."""
ON: Final = {"bed": "the bed", "post": "the post", "frame": "the frame", "chip": "a chip"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketLog:
    """One log end as the mason asks for it: number in its lift, id, stem, size, what it rests on, a note."""

    id: str
    number: str
    lift: int
    stem: str
    size: str
    rests: str
    note: str
    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketPanel:
    """One panel: its drawing, its place in the page, its logs in laying order."""

    name: str
    slug: str
    drawing: Markup
    logs: tuple[PocketLog, ...]

    @property
    def lifts(self) -> "Iterator[tuple[int, tuple[PocketLog, ...]]]":
        """Lift by lift, its logs in laying order."""
        for lift in sorted({log.lift for log in self.logs}):
            yield lift, tuple(log for log in self.logs if log.lift == lift)


def set_pocket(
    project: Project,
    panels: Mapping[str, Panel],
    layouts: Iterable[PanelLayout],
    card: MixCard | None,
    cautions: Iterable[Caution],
    *,
    slugs: Mapping[str, str],
    mark: str,
) -> str:
    """The pocket page as text.

    Args:
        project: the owner's case, for units and language.
        panels: the plan's panels by name.
        layouts: the laid panels.
        card: the mix card of one batch, None when no mix is stated.
        cautions: those that belong to laying and mixing.
        slugs: by panel, its name as a part of an address.
        mark: the state of the owner's file, so that entries tell which plan they belong to.
    """
    shown = tuple(_panel(project, panels[each.face.name], each, slugs[each.face.name]) for each in layouts)
    style, script = (_packed(name) for name in (STYLE, SCRIPT))
    return (
        page_environment()
        .get_template(TEMPLATE)
        .render(
            project=project,
            mark=mark,
            panels=shown,
            card=card,
            cautions=tuple(cautions),
            tubs=tubs(project.mortar),
            imperial=project.units == "imperial",
            currency=project.cost.currency,
            coverings=get_args(Covering),
            trades=TRADES,
            data=Markup(_data(project, shown, mark)),  # noqa: S704 escaped by _data
            style=Markup(style),  # noqa: S704 our own file
            script=Markup(script),  # noqa: S704 our own file
            style_hash=_hash(style),
            script_hash=_hash(script),
        )
        + "\n"
    )


def _packed(name: str) -> str:
    return (files("cordwright.book") / "templates" / name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    """The hash of a style or script, so that the page may use this one and no other."""
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _panel(project: Project, panel: Panel, layout: PanelLayout, slug: str) -> PocketPanel:
    numbers = numbers_in_lifts(layout.placements)
    drawing = draw_pocket_panel(panel, layout, numbers, f"pocket-{slug}")
    return PocketPanel(
        name=panel.name,
        slug=slug,
        drawing=Markup(to_svg(drawing, sized=False)),  # noqa: S704 escaped by the drawing's own writer
        logs=tuple(_logs(project, layout, numbers, drawing.height)),
    )


def _logs(project: Project, layout: PanelLayout, numbers: Mapping[str, str], height: float) -> Iterator[PocketLog]:
    places = {p.log.id: f"{p.lift}-{numbers[p.log.id]}" for p in layout.placements}
    for placed in sorted(layout.placements, key=lambda p: p.order):
        x, y = to_sheet((placed.x, placed.y))
        yield PocketLog(
            id=placed.log.id,
            number=numbers[placed.log.id],
            lift=placed.lift,
            stem=placed.log.stem,
            size=_size(project, placed),
            rests=" and ".join(dict.fromkeys(ON.get(s) or places.get(s, s) for s in placed.supports)),
            note=placed.note,
            x=round(x, 2),
            y=round(height - y, 2),
            radius=round(to_sheet((placed.log.diameter / 2, 0.0))[0] - to_sheet((0.0, 0.0))[0], 2),
        )


def _size(project: Project, placed: Placement) -> str:
    size = show_value(placed.log.diameter, "m", project.units, project.locale)
    return size if placed.log.shape == "round" else f"{placed.log.shape} of {size}"


def _data(project: Project, panels: Iterable[PocketPanel], mark: str) -> str:
    """What the script reads, as JSON that no owner's word can break out of."""
    content: dict[str, Any] = {
        "schema": SCHEMA,
        "project": project.name,
        "revision": project.revision,
        "mark": mark,
        "units": project.units,
        "currency": project.cost.currency,
        "tubs": tubs(project.mortar),
        "panels": [
            {
                "name": panel.name,
                "slug": panel.slug,
                "logs": [
                    {"id": g.id, "number": g.number, "lift": g.lift, "x": g.x, "y": g.y, "r": g.radius}
                    for g in panel.logs
                ],
            }
            for panel in panels
        ],
    }
    text = json.dumps(content, ensure_ascii=True)
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")
