"""What is said of a sand, in the owner's language: where it leaves the band, how far, and what a mason adds?"""

from collections.abc import Iterator

from cordwright.base import Figure
from cordwright.base.units import CUBIC_YARD, INCH
from cordwright.book.formats import NB, show_figure, show_middle, show_money, show_number
from cordwright.book.lettering import plain_lettering
from cordwright.case import Project
from cordwright.mortar.grading_bands import Excursion
from cordwright.mortar.sand_results import SandReport

SHARES = ("silt", "voids", "fines", "sieve_loss", "screened_4_75", "screened_4")
ALONE = "the mortar made with it decides"


def points(share: float, locale: str) -> str:
    """A share that something is off, in points of percentage; what would read as nothing is told as less than 0.1."""
    tenths = abs(share) * 100
    return f"{'under ' if tenths < 0.1 else ''}{show_number(max(tenths, 0.1), 1, locale)}"


def wants(excursion: Excursion, locale: str) -> str:
    """What a sand has at a sieve, what is wanted there and how far it is off, in points of percentage."""
    low, high = (show_number(x * 100, 0, locale) for x in (excursion.low, excursion.high))
    whole = round(excursion.has * 100)
    close = excursion.low * 100 <= whole <= excursion.high * 100
    has = show_number(excursion.has * 100, 1 if close else 0, locale)
    return f"{has} % against {low}-{high}, off by {points(excursion.by, locale)} points"


def headline(report: SandReport, locale: str) -> str:
    """The verdict on one sand and where it is worst."""
    if not report.judgements:
        return "not judged, it was not sieved"
    worst = report.judgements[0].worst
    if worst is None:
        return report.verdict
    if report.verdict == "nearly fits":
        return f"nearly fits, {side(worst)} at {worst.sieve} alone: {wants(worst, locale)}; {ALONE}"
    return f"{report.verdict}, worst at {worst.sieve}: {wants(worst, locale)}"


def side(excursion: Excursion) -> str:
    """Whether too much or too little passes."""
    return "over" if excursion.by > 0 else "short"


def remark_words(report: SandReport, project: Project) -> Iterator[str]:
    """The mason's sentences, with their numbers in the owner's language."""
    lettering = plain_lettering(project)
    yield from (lettering.advice(remark) for remark in report.remarks)


def show_opening(size: float, project: Project) -> str:
    """A sieve's opening or a grain's size [m] in millimetres, or in inches with four decimals."""
    if project.units == "imperial":
        return f"{show_number(size / INCH, 4, project.locale)} in"
    return f"{show_number(size * 1000, 2 if size < 10e-3 else 1, project.locale)} mm"


def sand_figure(figure: Figure, project: Project, *, spread: bool = True) -> str:
    """A figure of a sand: sizes as openings, silt and voids in percent, moduli and ratios bare."""
    if figure.unit == "m" and isinstance(figure.value, float):
        return show_opening(figure.value, project)
    if figure.unit == "1" and isinstance(figure.value, float) and not is_share(figure):
        return _bare(figure, project.locale, spread)
    show = show_figure if spread else show_middle
    return show(figure, project.units, project.locale)


def is_share(figure: Figure) -> bool:
    """Whether a figure of a sand is a part of the whole, to be read in percent."""
    return figure.key.rpartition(".")[2] in SHARES


def _bare(figure: Figure, locale: str, spread: bool) -> str:
    ends = [show_number(v, 2, locale) for v in (figure.value, figure.low, figure.high) if isinstance(v, float)]
    if not spread or len(ends) < 3 or ends[1] == ends[2]:
        return ends[0]
    return f"{ends[0]} ({ends[1]} to {ends[2]})"


def price_words(report: SandReport, project: Project, per: str = f" per{NB}") -> str:
    """What a tonne or a measure of the sand costs; blank where no price is stated."""
    sand = report.sand
    if sand.price is None:
        return ""
    in_yards = project.units == "imperial" and sand.price_per == "m3"
    amount = sand.price * (CUBIC_YARD if in_yards else 1)
    measure = {"t": "t", "m3": "yd³" if in_yards else "m³"}[sand.price_per]
    return f"{show_money(amount, project.cost.currency, project.locale)}{per}{measure}"


def bucket_words(report: SandReport) -> str:
    """The blend in buckets of dry loose sand; blank where a loose density is missing."""
    return "" if report.buckets is None else " : ".join(map(str, report.buckets))
