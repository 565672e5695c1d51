"""Will this sand do? The sand sheet: answer, chart with the masonry band, every sand in figures, the blends."""

from typing import Final

from cordwright.base import Figure
from cordwright.book.content import Block, Column, Paragraph, Picture, Row, Sheet, Table, table
from cordwright.book.drawing import fitted
from cordwright.book.formats import show_number, show_share
from cordwright.book.lettering import capped
from cordwright.book.sand_drawing import Excess, Jar, Line, Marks, Tick, draw_jars, draw_sands
from cordwright.book.sand_words import (
    bucket_words,
    headline,
    points,
    price_words,
    remark_words,
    sand_figure,
    side,
)
from cordwright.book.sheets.building import caution_box
from cordwright.case import Project
from cordwright.mortar import SandReport, Sands
from cordwright.mortar.en_13139 import NAME
from cordwright.mortar.grading import ASTM_SERIES
from cordwright.mortar.grading_bands import Excursion
from cordwright.mortar.sand_figures import MOST_SILT, silt_share
from cordwright.mortar.sand_remarks import MAY_SERVE, PEN
from cordwright.mortar.sands import masonry_band
from cordwright.reckon import Reckoning

SIZES: Final = (0.063e-3, 0.125e-3, 0.25e-3, 0.5e-3, 1e-3, 2e-3, 4e-3, 8e-3, 16e-3, 31.5e-3, 63e-3)
NUMBERS: Final = (
    ("No.200", 0.075e-3),
    ("No.100", 0.15e-3),
    ("No.50", 0.3e-3),
    ("No.30", 0.6e-3),
    ("No.16", 1.18e-3),
    ("No.8", 2.36e-3),
    ("No.4", 4.75e-3),
    ("3/8 in", 9.5e-3),
    ("3/4 in", 19e-3),
    ("1 1/2 in", 37.5e-3),
)
MOST_REMARKS: Final = 2
SHARES: Final = {"D50": 1.75, "Cu": 1.1, "FM EN": 1.2}
COLUMNS: Final = ("fineness_modulus", "fineness_modulus_en", "d50", "uniformity", "silt", "voids")
ORDER_WORDS: Final = (
    "A sand outside may still serve if the mortar made with it performs: lay and break a test pat. Common practice, no "
    "source: coarse sand before masonry sand, masonry sand before beach sand."
)
CHART_WORDS: Final = (
    "Thick, ringed at its sieves: nearest the band. FM: fineness modulus. Cu: D60 over D10, by the log of the size."
)
WIDEST: Final = 16e-3
"""Largest grain that is drawn; a gravel's curve is cut off there [m]."""
LONGEST_NAME: Final = 26.0
"""Room for a sand's name at its dimension [mm]."""
MOST_BLENDS: Final = 2
LEAST_HIGH, TALLEST, A_ROW = 40.0, 81.0, 8.0
"""Height of the chart: the more sands stand below it, the lower it is [mm]."""


def sand_sheet(project: Project, reckoning: Reckoning) -> tuple[Sheet, ...]:
    """The sands on one page; no page where the file states none."""
    sands = reckoning.sands
    if not sands.reports:
        return ()
    first, *more = answer(project, sands)
    blocks: list[Block] = [Paragraph(text=first, manner="lead"), *(Paragraph(text=text) for text in more)]
    if sands.ranking:
        high = max(LEAST_HIGH, TALLEST - A_ROW * len(_shown(sands)))
        blocks += [Picture(drawing=draw_sands(marks_of(project, sands), high))]
        blocks += [Paragraph(text=CHART_WORDS, manner="small")]
    elif any(silt_share(r.sand) is not None for r in sands.reports):
        blocks.append(Picture(drawing=draw_jars(_jars(project, sands), MOST_SILT, _at_most(project))))
    blocks += [_figures(project, sands), _judged(project, sands)]
    blocks += [Paragraph(text=ORDER_WORDS, manner="small")]
    blocks += [caution_box(c) for c in sands.cautions]
    return (Sheet(mark="SAND", title="Will this sand do?", slug="sand", blocks=tuple(blocks)),)


def answer(project: Project, sands: Sands) -> tuple[str, ...]:
    """Which sand lies nearest the band, what a blend betters, and which lies farthest."""
    alone = [r for r in sands.ranking if r.blend is None]
    if not alone:
        return ("No sand was sieved, so none is judged by its grading: sieve it, or lay and break a test pat.",)
    best = alone[0]
    more = [_mixed(project, sands.ranking[0])] if sands.ranking[0].blend is not None else []
    if len(alone) > 1:
        more.append(f"{capped(alone[-1].sand.name)}: {headline(alone[-1], project.locale)}.")
    return (f"{capped(best.sand.name)}: {headline(best, project.locale)}.", *((" ".join(more),) if more else ()))


def _shown(sands: Sands) -> tuple[SandReport, ...]:
    return (*sands.reports, *sands.blends[:MOST_BLENDS])


def _mixed(project: Project, report: SandReport) -> str:
    buckets = bucket_words(report)
    measured = f", {buckets} by dry loose buckets" if buckets else ""
    off = points(report.off or 0.0, project.locale) if report.off else "0"
    return f"Nearer still mixed: {report.sand.name}{measured}, {off} points outside."


def marks_of(project: Project, sands: Sands) -> Marks:
    """What stands on the chart.

    Args:
        project: for units and language.
        sands: with at least one sieved.
    """
    chosen = tuple(r for r in sands.ranking if r in _shown(sands))
    first = masonry_band(chosen[0].sand)
    curves = tuple(r.curve for r in chosen if r.curve is not None)
    least = min(c.openings[-1] for c in curves)
    whole = max(next((s for s, p in zip(c.openings[::-1], c.passing[::-1], strict=True) if p > 0.999), c.openings[0])
                for c in curves)  # fmt: skip
    return Marks(
        lines=tuple(Line(name=_name(r), curve=r.curve) for r in chosen if r.curve is not None),
        band=first,
        band_words=f"grey: {first.title}",
        ticks=_ticks(project, min(least, 0.15e-3), max(whole, ASTM_SERIES[0])),
        axis_words="sieve" if project.units == "imperial" else "size of the grains, mm",
        worst=_worst(project, sands),
    )


def _name(report: SandReport) -> str:
    if report.blend is None:
        return report.sand.name
    return report.sand.slug.replace("_", " ")


def _ticks(project: Project, least: float, most: float) -> tuple[Tick, ...]:
    if project.units == "imperial":
        ticks = [Tick(size=size, name=name) for name, size in NUMBERS]
    else:
        ticks = [Tick(size=s, name=_millimetres(s, project.locale)) for s in SIZES]
    return tuple(t for t in ticks if least * 0.75 <= t.size <= min(most * 1.3, WIDEST))


def _millimetres(size: float, locale: str) -> str:
    text = f"{size * 1000:g}"
    return show_number(size * 1000, len(text.partition(".")[2]), locale)


def _worst(project: Project, sands: Sands) -> Excess | None:
    """The place farthest outside of all that is drawn."""
    places = [(r, r.judgements[0].worst) for r in sands.ranking if r.judgements]
    known = [(r, e) for r, e in places if e is not None]
    if not known:
        return None
    report, worst = max(known, key=lambda pair: abs(pair[1].by))
    name = fitted(_name(report), LONGEST_NAME, 3.5)
    return Excess(excursion=worst, words=f"{name} {_at_sieve(worst, project.locale)}")


def _at_sieve(excursion: Excursion, locale: str) -> str:
    return f"{points(excursion.by, locale)} {side(excursion)} at {excursion.sieve}"


def _jars(project: Project, sands: Sands) -> tuple[Jar, ...]:
    known = [(r.sand.name, silt_share(r.sand)) for r in sands.reports]
    return tuple(Jar(name=n, silt=s, words=f"{show_share(s, project.locale)} silt") for n, s in known if s is not None)


def _at_most(project: Project) -> str:
    return f"at most {show_share(MOST_SILT, project.locale)}"


def _figures(project: Project, sands: Sands) -> Table:
    heads = ("FM", "FM EN", "D50", "Cu", "Silt", "Voids")
    columns = (
        Column(title="Sand", share=1.8),
        Column(title="Band", share=1.6),
        *(Column(title=head, measure=True, share=SHARES.get(head, 0.95)) for head in heads),
        Column(title="Price", measure=True, share=2.2),
    )
    rows = [_row(project, r) for r in _shown(sands)]
    return table("The sands and their blends in figures", columns, rows)


def _row(project: Project, report: SandReport) -> tuple[str, ...]:
    by_name = {f.key.rpartition(".")[2]: f for f in report.figures}
    cells = (_cell(by_name.get(name), project) for name in COLUMNS)
    return (_name(report), report.verdict, *cells, price_words(report, project, "/") or "–")


def _parts(report: SandReport) -> str:
    if report.blend is None:
        return ""
    buckets = bucket_words(report)
    return report.sand.name + (f", buckets {buckets}" if buckets else "")


def _cell(figure: Figure | None, project: Project) -> str:
    return "–" if figure is None or figure.value is None else sand_figure(figure, project, spread=False)


def _judged(project: Project, sands: Sands) -> Table:
    columns = (
        Column(title="Sand", share=1.2),
        Column(title="Off at these sieves, in points of percentage; what a mason adds", share=6.9),
    )
    told = [(_name(r), _what(project, r)) for r in _shown(sands)]
    rows = [Row(cells=(name, what)) for name, what in told if what]
    return table("The sands held against the masonry band", columns, rows)


def _what(project: Project, report: SandReport) -> str:
    first = report.judgements[0] if report.judgements else None
    places = [_place(e, project.locale) for e in (*first.excursions, *first.steps)] if first else []
    spoken = [w for w in remark_words(report, project) if not _said_elsewhere(w)]
    said = (_parts(report), ", ".join(places), *spoken[:MOST_REMARKS])
    return ". ".join(capped(words) for words in said if words)


def _said_elsewhere(words: str) -> bool:
    return words == MAY_SERVE.words or words.endswith(PEN) or words.startswith(NAME)


def _place(excursion: Excursion, locale: str) -> str:
    return f"{excursion.sieve} {points(excursion.by, locale)} {side(excursion)}"
