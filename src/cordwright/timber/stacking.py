"""Is the wood stacked so that it dries and does not mould?"""

from dataclasses import dataclass
from typing import Final

from cordwright.base import Check, Cite, Step
from cordwright.timber.inputs import SeasoningInput, Stem

PRACTICE: Final = Cite("stacking-practice", "peeled, top covered, both ends open, one year and better two")
UNDER_COVER: Final = Cite("nicholls-brackley-2009", "peeled and under cover dried fastest")


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One point of the checklist: what is wanted, whether it is so (None: not stated), and what to do if not."""

    wanted: str
    met: bool | None
    do: str


def checklist(seasoning: SeasoningInput, stems: tuple[Stem, ...] = ()) -> tuple[Point, ...]:
    """Give the points of the stacking checklist with what the owner says of each.

    Args:
        seasoning: as stated.
        stems: with their days of peeling; blank where unknown.

    Sources: common practice (`stacking-practice`), no published one for short log ends.
    """
    wrapped = seasoning.cover == "all sides"
    cover = "take the sides off: cover the top alone" if wrapped else "cover the top alone"
    return (
        Point(
            wanted="peeled", met=_peeled(seasoning, stems), do="peel it: bark keeps the water in and insects at home"
        ),
        Point(wanted="top covered and nothing else", met=_is(seasoning.cover, "top"), do=cover),
        Point(wanted="both ends open to the air", met=_is(seasoning.ends, "open"), do="open both ends of the stack"),
        Point(wanted="on bearers, off the ground", met=seasoning.on_bearers, do="set it on bearers"),
        Point(wanted="stickers or gaps for air", met=seasoning.stickers, do="restack it with room for air"),
    )


def _is(stated: str, wanted: str) -> bool | None:
    return None if not stated else stated == wanted


def _peeled(seasoning: SeasoningInput, stems: tuple[Stem, ...]) -> bool | None:
    """Bark as stated, else a day of peeling for the stack or for every stem."""
    if seasoning.bark:
        return seasoning.bark == "off"
    days = seasoning.peeled is not None or (bool(stems) and all(stem.peeled.strip() for stem in stems))
    return True if days else None


def stacking_check(seasoning: SeasoningInput, stems: tuple[Stem, ...] = ()) -> Check:
    """Hold the points that are met against those wanted; a blank leaves it open, a point not met is short.

    Args:
        seasoning: as stated.
        stems: with their days of peeling.
    """
    points = checklist(seasoning, stems)
    wrong, blank = [p for p in points if p.met is False], [p for p in points if p.met is None]
    told = "the stack against the checklist of common practice"
    open_points = f"not stated: {', '.join(p.wanted for p in blank)}" if blank and not wrong else ""
    return Check(
        key="timber.stacking_check",
        label=f"{told}: {'; '.join(p.do for p in wrong)}" if wrong else told,
        demand=float(len(points)),
        capacity=None if open_points else float(len(points) - len(wrong) - len(blank)),
        unit="",
        sources=(Cite("owner", "seasoning"), PRACTICE, UNDER_COVER),
        steps=tuple(Step(symbol=p.wanted, value=None, unit="", formula=_said(p), source=PRACTICE) for p in points),
        not_judged=open_points,
    )


def _said(point: Point) -> str:
    if point.met is None:
        return "not stated"
    return "as wanted" if point.met else f"not so: {point.do}"
