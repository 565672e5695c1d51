"""How do the sands read on one page, for the mason?"""

from collections.abc import Iterator

from cordwright.base import Figure
from cordwright.base.units import CUBIC_YARD, INCH
from cordwright.book.formats import show_figure, show_money, show_number
from cordwright.case import Project
from cordwright.mortar.sand_remarks import wants
from cordwright.mortar.sand_results import SandReport, Sands

HEADLINES = (
    "fineness_modulus",
    "fineness_modulus_en",
    "uniformity",
    "d50",
    "silt",
    "voids",
    "loose_density",
    "bulking",
)


SHARES = ("silt", "voids")


def sand_lines(project: Project, sands: Sands) -> Iterator[str]:
    """Give the sands line by line: each with its verdict and why, the blends, the order."""
    yield f"{project.name}: sand  (not reviewed by an engineer; figures for review)"
    for report in (*sands.reports, *sands.blends):
        yield ""
        yield from _sand(project, report)
    if len(sands.ranking) > 1:
        yield ""
        yield "from the least to the most outside the masonry band:"
        yield from (f"  {i}. {r.sand.name}{_off(r)}" for i, r in enumerate(sands.ranking, 1))
        yield "common practice: coarse sand before masonry sand, masonry sand before beach sand"
    if sands.densest is not None:
        shares = " + ".join(
            f"{s * 100:.0f} % {n}" for s, n in zip(sands.densest.shares, sands.densest.sands, strict=True)
        )
        yield f"nearest the curve of dense packing (least voids, to be tried with water): {shares}"
    for caution in sands.cautions:
        yield ""
        yield f"! {caution.harm} {caution.do}"
        yield f"  Who decides: {caution.decides}"


def _off(report: SandReport) -> str:
    return "" if report.off is None else f", {report.off * 100:.1f} points outside in sum"


def _sand(project: Project, report: SandReport) -> Iterator[str]:
    yield f"{report.sand.name} ({report.sand.kind}): {_headline(report)}"
    yield from (f"  - {remark}" for remark in report.remarks)
    for judged in report.judgements:
        yield f"  {judged.band.title}: {judged.verdict}"
        yield from (f"    {e.sieve} ({show_opening(e.opening, project)}): {wants(e)}" for e in judged.excursions)
        yield from (f"    between {e.sieve}: {wants(e)}" for e in judged.steps)
        if judged.unknown:
            yield f"    not reached by the sieves used: {', '.join(judged.unknown)}"
    if report.buckets is not None:
        yield f"  by dry loose buckets: {' : '.join(map(str, report.buckets))}"
    wanted = [f for f in report.figures if f.key.rpartition(".")[2] in HEADLINES]
    yield from (f"  {_figure(f, project):<26} {f.label}" for f in wanted)
    yield from _price(project, report)


def _price(project: Project, report: SandReport) -> Iterator[str]:
    sand = report.sand
    if sand.price is None:
        return
    in_yards = project.units == "imperial" and sand.price_per == "m3"
    amount = sand.price * (CUBIC_YARD if in_yards else 1)
    yield f"  {show_money(amount, project.cost.currency, project.locale)} per {'yd3' if in_yards else sand.price_per}"


def show_opening(size: float, project: Project) -> str:
    """A sieve's opening or a grain's size [m] in millimetres, or in inches with four decimals."""
    if project.units == "imperial":
        return f"{show_number(size / INCH, 4, project.locale)} in"
    return f"{show_number(size * 1000, 2 if size < 10e-3 else 1, project.locale)} mm"


def _figure(figure: Figure, project: Project) -> str:
    if figure.unit == "m" and isinstance(figure.value, float):
        return show_opening(figure.value, project)
    name = figure.key.rpartition(".")[2]
    if figure.unit == "1" and isinstance(figure.value, float) and name not in SHARES:
        return show_number(figure.value, 2, project.locale)
    return show_figure(figure, project.units, project.locale)


def _headline(report: SandReport) -> str:
    if not report.judgements:
        return "not judged, it was not sieved"
    worst = report.judgements[0].worst
    return report.verdict + (f", worst at {worst.sieve}: {wants(worst)}" if worst else "")
