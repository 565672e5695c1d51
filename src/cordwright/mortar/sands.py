"""Will this sand do, which of the sands is best, and what would a blend of them be?"""

from dataclasses import replace
from itertools import combinations
from typing import Final

from cordwright.base import Caution, Cite, caution
from cordwright.mortar.blending import Blend, blend_to_band, blend_to_least_voids, in_buckets, off_band
from cordwright.mortar.grading import Grading, grading
from cordwright.mortar.grading_bands import Band, band, judge
from cordwright.mortar.sand_figures import sand_checks, sand_figures
from cordwright.mortar.sand_inputs import SandInput, SandKind
from cordwright.mortar.sand_remarks import remarks
from cordwright.mortar.sand_results import SandReport, Sands

CHOICE_SOURCE: Final = Cite("blend-choice")
LEAST_SHARE: Final = 0.05
"""A sand of which a blend wants less is not worth a heap of its own (assumption, `blend-choice`)."""


def reckon_sands(sands: tuple[SandInput, ...]) -> Sands:
    """Judge every sand, seek the blends and put them in order.

    Args:
        sands: as measured, without errors.

    Sources: the order, least outside the band first, is our choice (`blend-choice`).
    """
    reports = tuple(judge_sand(sand) for sand in sands)
    blends = _blends(reports)
    everything = (*reports, *blends)
    known = [r for r in everything if r.off is not None]
    return Sands(
        reports=reports,
        blends=blends,
        densest=_densest(reports),
        ranking=tuple(sorted(known, key=_rank)),
        figures=tuple(f for r in everything for f in r.figures),
        checks=tuple(c for r in everything for c in r.checks),
        cautions=_cautions(sands),
    )


def _rank(report: SandReport) -> tuple[float, int]:
    assert report.off is not None
    steps = sum(s.by for j in report.judgements[:1] for s in j.steps)
    return round(report.off + steps, 9), 0 if report.blend is None else 1


def masonry_band(sand: SandInput) -> Band:
    """The masonry band for the kind of sand."""
    return band("c144-manufactured" if sand.kind == "manufactured" else "c144-natural")


def judge_sand(sand: SandInput, curve: Grading | None = None, mixed: Blend | None = None) -> SandReport:
    """Work out one sand, or a blend whose curve is given."""
    curve = curve or grading(sand)
    own = masonry_band(sand)
    judgements = (judge(curve, own), judge(curve, band("c33"))) if curve else ()
    return SandReport(
        sand=sand,
        curve=curve,
        judgements=judgements,
        off=off_band(curve, own) if curve else None,
        remarks=remarks(sand, curve, judgements),
        figures=sand_figures(sand, curve, judgements),
        checks=sand_checks(sand),
        blend=mixed,
    )


def _sieved(reports: tuple[SandReport, ...]) -> list[tuple[SandReport, Grading]]:
    return [(r, r.curve) for r in reports if r.curve is not None and reaches_band(r.curve)]


def reaches_band(curve: Grading) -> bool:
    """Whether a sieving holds at least two sieves of the masonry band, so that there is something to seek."""
    return sum(curve.at(limit.opening) is not None for limit in band("c144-natural").limits) > 1


def _blends(reports: tuple[SandReport, ...]) -> tuple[SandReport, ...]:
    """Blends of two or three sands that lie less outside the band than every sand in them."""
    found = []
    for count in (2, 3):
        for chosen in combinations(_sieved(reports), count):
            mixed = _blend(chosen)
            singles = [off_band(curve, _blend_band(chosen)) for _, curve in chosen]
            if min(mixed.shares) >= LEAST_SHARE and mixed.off < min(singles):
                found.append((mixed, tuple(r for r, _ in chosen)))
    found.sort(key=lambda pair: pair[0].off)
    return tuple(_blend_report(i, mixed, parts) for i, (mixed, parts) in enumerate(found, 1))


def _blend_band(chosen: tuple[tuple[SandReport, Grading], ...]) -> Band:
    return masonry_band(replace(chosen[0][0].sand, kind=_blend_kind(tuple(r for r, _ in chosen))))


def _blend_kind(parts: tuple[SandReport, ...]) -> SandKind:
    """Manufactured only when all of it is: a blend is held against the stricter natural band."""
    return "manufactured" if all(r.sand.kind == "manufactured" for r in parts) else "natural"


def _blend(chosen: tuple[tuple[SandReport, Grading], ...]) -> Blend:
    return blend_to_band([r.sand.name for r, _ in chosen], [c for _, c in chosen], _blend_band(chosen))


def _blend_report(number: int, mixed: Blend, parts: tuple[SandReport, ...]) -> SandReport:
    shares = " + ".join(f"{s:.0%} {n}".replace("%", " %") for s, n in zip(mixed.shares, mixed.sands, strict=True))
    sand = SandInput(
        name=shares,
        slug=f"blend_{number}",
        kind=_blend_kind(parts),
        price=_blend_price(mixed, parts),
        beach=any(r.sand.beach for r in parts),
    )
    report = judge_sand(sand, mixed.curve, mixed)
    return replace(report, buckets=in_buckets(mixed.shares, [r.sand.loose_density for r in parts]))


def _blend_price(mixed: Blend, parts: tuple[SandReport, ...]) -> float | None:
    """Price of a tonne of the blend; None while a price is blank or stands for a volume of unknown mass."""
    prices = [price_per_tonne(r.sand) for r in parts]
    if any(p is None for p in prices):
        return None
    return sum(share * p for share, p in zip(mixed.shares, prices, strict=True) if p is not None)


def price_per_tonne(sand: SandInput) -> float | None:
    """Price of a tonne in the project's currency; by volume it needs the loose density."""
    if sand.price is None or sand.price_per == "t":
        return sand.price
    return None if sand.loose_density is None else sand.price / (sand.loose_density / 1000)


def _densest(reports: tuple[SandReport, ...]) -> Blend | None:
    """The blend nearest the curve of dense packing, of the two or three sands first named."""
    sieved = _sieved(reports)[:3]
    if len(sieved) < 2:
        return None
    return blend_to_least_voids([r.sand.name for r, _ in sieved], [c for _, c in sieved])


def _cautions(sands: tuple[SandInput, ...]) -> tuple[Caution, ...]:
    return (caution("dirty-sand"),) if sands else ()
