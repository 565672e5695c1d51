"""What goes beside the book? Drawings for a neighbour's CAD, the building in space, labels, the phone's page."""

import re
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import Final

from cordwright.book.content import Book, MixCard, Picture, drawings_in
from cordwright.book.drawing import Drawing
from cordwright.book.dxf import to_dxf
from cordwright.book.formats import show_value
from cordwright.book.labels import Label, draw_labels
from cordwright.book.lettering import counted
from cordwright.book.lift_bands import numbers_in_lifts
from cordwright.book.pocket import set_pocket
from cordwright.book.svg import to_svg
from cordwright.book.typst_backend import set_drawings
from cordwright.case import Project
from cordwright.plan.panels import seen_from
from cordwright.reckon import Reckoning
from cordwright.wall.layout import PanelLayout

ON_SITE = ("alkali-burns", "silica-dust", "frost-on-work", "lifting")
"""Cautions that the phone shows beside the mix."""
NOT_FOR_CAD: Final = re.compile("-lift-|^heat-|^warmth-")
"""Drawings that nobody builds from: thousands of dots and lines of one temperature only burden a neighbour's CAD."""


def pictures_in(book: Book) -> list[Drawing]:
    """The drawings of a book that stand on its sheets as pictures to scale."""
    blocks = (block for sheet in book.sheets for block in sheet.blocks)
    return [d for block in blocks if isinstance(block, Picture) for d in drawings_in(block) if d.denominator]


def write_drawings(drawings: Iterable[Drawing], folder: Path) -> Iterator[Path]:
    """Each drawing as SVG; those of a whole thing, not of one lift or of its warmth, for CAD too."""
    for drawing in drawings:
        yield put_text(folder / f"{drawing.name}.svg", to_svg(drawing))
        if not NOT_FOR_CAD.search(drawing.name):
            yield put_text(folder / f"{drawing.name}.dxf", to_dxf(drawing))


def write_companions(
    project: Project, reckoning: Reckoning, book: Book, folder: Path, *, today: date, slugs: Iterable[str]
) -> Iterator[Path]:
    """The building in space; of a laid wall its labels and the pocket page too.

    Args:
        project: the owner's case.
        reckoning: the building worked out.
        book: its sheets.
        folder: where the files are made.
        today: the day they are made.
        slugs: file names of the panels, in the plan's order.
    """
    from cordwright.book.model import write_model

    layouts = reckoning.layout.panels if reckoning.layout is not None else ()
    yield write_model(folder / "building.glb", project.plan, reckoning.plan, layouts)
    if not layouts:
        return
    root = folder / "labels"
    root.mkdir()
    sheets = draw_labels(tuple(labels_of(project, layouts)))
    labels = folder / "labels.pdf"
    labels.write_bytes(set_drawings(sheets, f"{project.name}: log-end labels", root, today))
    yield labels
    names = dict(zip((p.name for p in reckoning.plan.panels), slugs, strict=True))
    yield put_text(folder / "pocket.html", _pocket(project, reckoning, book, layouts, names))


def labels_of(project: Project, layouts: Iterable[PanelLayout]) -> Iterator[Label]:
    """A label for every log end in the wall, stem by stem from the butt."""
    found: list[tuple[list[str | int], Label]] = []
    for layout in layouts:
        numbers = numbers_in_lifts(layout.placements)
        for p in layout.placements:
            size = show_value(p.log.diameter, "m", project.units, project.locale)
            label = Label(
                panel=layout.face.name,
                lift=p.lift,
                number=numbers[p.log.id],
                log=p.log.id,
                stem=p.log.stem,
                size=size if p.log.shape == "round" else f"{p.log.shape} of {size}",
            )
            found.append((counted(p.log.id), label))
    yield from (label for _, label in sorted(found, key=lambda pair: pair[0]))


def _pocket(
    project: Project, reckoning: Reckoning, book: Book, layouts: Iterable[PanelLayout], names: dict[str, str]
) -> str:
    panels = {p.name: p for p in reckoning.plan.panels}
    seen = {layout.face.name: seen_from(panels[layout.face.name], layout.face.start) for layout in layouts}
    card = next((b for sheet in book.sheets for b in sheet.blocks if isinstance(b, MixCard)), None)
    cautions = [c for c in reckoning.cautions if c.key in ON_SITE]
    return set_pocket(project, seen, layouts, card, cautions, slugs=names, mark=book.file_mark)


def put_text(path: Path, text: str) -> Path:
    """Write a text as UTF-8 with its line ends as they are, and give the path."""
    path.write_bytes(text.encode("utf-8"))
    return path
