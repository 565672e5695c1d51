"""Which panel is the dampest, why, and what cures it at least cost?"""

from dataclasses import dataclass

from cordwright.base import table
from cordwright.heat.damp_case import DampCase
from cordwright.heat.rain import (
    PanelRain,
)
from cordwright.plan.results import Panel


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRisk:
    """One panel's place in the ranking: `score` (higher is damper) [1], why in words, and the cheapest cure."""

    panel: str
    score: float
    rain: PanelRain | None
    why: tuple[str, ...]
    cure: str


def ranking(case: DampCase, rain: tuple[PanelRain, ...]) -> tuple[PanelRisk, ...]:
    """The panels, the dampest first, each with why and the cheapest cure.

    Args:
        case: what the damp is reckoned from.
        rain: on each panel.

    Sources: the order is an assumption (`panel-ranking`): wetted share of the panel times how much it faces the rain,
    with a tenth for each sill within the wetted part and for a foot within splash or snow.
    """
    by_name = {r.panel: r for r in rain}
    found = [_risk(case, p, by_name.get(p.name)) for p in case.built.panels]
    return tuple(sorted(found, key=lambda r: -r.score))


def _risk(case: DampCase, panel: Panel, rain: PanelRain | None) -> PanelRisk:
    score, why = 0.0, []
    if rain is not None and rain.wetted[1] > 0.01:
        face = 1.0 if rain.exposure is None else rain.exposure
        score += face * rain.wetted[1] / case.plan.height
        why.append("rain reaches its foot")
        sills = [o for o in panel.openings if o.opening.use == "window" and o.opening.sill < rain.wetted[1]]
        score += 0.1 * face * len(sills)
        why += [f"sill of {o.opening.id} stands in it" for o in sills]
    score, why = _at_foot(case, score, why)
    return PanelRisk(
        panel=panel.name, score=score, rain=rain, why=tuple(why) or ("nothing found",), cure=cure_of(case, rain)
    )


def _at_foot(case: DampCase, score: float, why: list[str]) -> tuple[float, list[str]]:
    plinth, snow = case.plan.plinth_height, case.house.lying_snow
    splash = table("house")["rain"]["splash"][0]
    if plinth is None:
        return score, [*why, "height of the plinth unknown"]
    if plinth < splash:
        return score + 0.1, [*why, "foot within splash"]
    if snow is not None and plinth < snow:
        return score + 0.1, [*why, "foot within lying snow"]
    return score, why


def cure_of(case: DampCase, rain: PanelRain | None) -> str:
    """The cheapest cure for a panel: before the roof is on wider eaves cost least, for a low foot gravel and a gutter.

    Args:
        case: what the damp is reckoned from.
        rain: on the panel.

    Sources: common practice (`damp-cures`).
    """
    plinth, snow = case.plan.plinth_height, case.house.lying_snow
    if plinth is not None and plinth < table("house")["rain"]["splash"][0]:
        return "coarse gravel at the foot and a gutter; a higher plinth while nothing is laid"
    if plinth is not None and snow is not None and plinth < snow:
        return "keep the snow shovelled off this wall; a higher plinth while nothing is laid"
    if rain is not None and rain.wetted[1] > 0.01:
        return "wider eaves before the roof is on; later a porch, a woodpile's roof or a hedge on this side"
    return "nothing but a look each spring"
