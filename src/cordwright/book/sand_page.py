"""How do the sands read on one page, for the mason?"""

from collections.abc import Iterator

from cordwright.book.formats import NB
from cordwright.book.sand_words import (
    bucket_words,
    headline,
    points,
    price_words,
    remark_words,
    sand_figure,
    show_opening,
    wants,
)
from cordwright.case import Project
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
    "water_demand",
    "screened_4_75",
    "screened_4",
)


def sand_lines(project: Project, sands: Sands) -> Iterator[str]:
    """Give the sands line by line: each with its verdict and why, the blends, the order."""
    for text in _lines(project, sands):
        yield text.replace(NB, " ")


def _lines(project: Project, sands: Sands) -> Iterator[str]:
    yield f"{project.name}: sand  (not reviewed by an engineer; figures for review)"
    for report in (*sands.reports, *sands.blends):
        yield ""
        yield from _sand(project, report)
    if len(sands.ranking) > 1:
        yield ""
        yield "from the least to the most outside the masonry band:"
        yield from (f"  {i}. {r.sand.name}{_off(r, project)}" for i, r in enumerate(sands.ranking, 1))
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


def _off(report: SandReport, project: Project) -> str:
    return "" if report.off is None else f", {points(report.off, project.locale)} points outside in sum"


def _sand(project: Project, report: SandReport) -> Iterator[str]:
    locale = project.locale
    yield f"{report.sand.name} ({report.sand.kind}): {headline(report, locale)}"
    yield from (f"  - {remark}" for remark in remark_words(report, project))
    for judged in report.judgements:
        yield f"  {judged.band.title}: {judged.verdict}"
        yield from (
            f"    {e.sieve} ({show_opening(e.opening, project)}): {wants(e, locale)}" for e in judged.excursions
        )
        yield from (f"    from {e.sieve}: {wants(e, locale)}" for e in judged.steps)
        if judged.unknown:
            yield f"    not reached by the sieves used: {', '.join(judged.unknown)}"
    if report.buckets is not None:
        yield f"  by dry loose buckets: {bucket_words(report)}"
    wanted = [f for f in report.figures if f.key.rpartition(".")[2] in HEADLINES]
    yield from (f"  {sand_figure(f, project):<26} {f.label}" for f in wanted)
    if report.sand.price is not None:
        yield f"  {price_words(report, project)}"
