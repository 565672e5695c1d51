"""Where would this house be damp: within the wall, on its inner face, in the rain, at its foot, and what cures it?"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from cordwright.base import Caution, Check, Cite, Figure, Step, caution
from cordwright.heat.damp_air import outer_air, paths_of, room_air
from cordwright.heat.damp_case import DampCase, lacking_for_vapour
from cordwright.heat.damp_checks import eaves_check, foot_checks, mould_check
from cordwright.heat.damp_drying import drying_figures
from cordwright.heat.damp_ranking import PanelRisk, ranking
from cordwright.heat.decay import decay_hazard, decay_index
from cordwright.heat.house_shell import room_volume
from cordwright.heat.rain import (
    Eaves,
    PanelRain,
    driving_rain,
    eaves_of,
    exposures,
    fall_speeds,
    panel_rain,
)
from cordwright.heat.vapour import VapourYear, cut, vapour_year
from cordwright.site import MonthlyNormals
from cordwright.site.climate import MONTHS

GLASER = Cite("iso-13788-memory", "monthly vapour balance")
DRIFT = Cite("rain-drift")
RAIN_INDEX = Cite("iso-15927-3-memory", "hours of wind and rain")
RANKED = (Cite("panel-ranking"), Cite("damp-cures"))
"""What stands behind the order of the panels and their cures."""
PLINTH = Cite("plinth-practice", "13 to 14 in over the ground")
MONTHLY = Cite("owner", "site.months")
STORMY = 1.0
"""The windiest month's mean is taken as the wind with rain, times this [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Damp:
    """The damp worked out: vapour by path ("log", "joint"), panels by risk, eaves, figures, checks.

    `rain_index`: driving rain of each panel in the open [L/m2 a year], None where nobody measured wind with rain.
    """

    vapour: dict[str, VapourYear]
    panels: tuple[PanelRisk, ...]
    eaves: Eaves | None
    wind: float | None
    rain_index: tuple[float | None, ...]
    hazard: str
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)


def reckon_damp(case: DampCase) -> Damp:
    """Work out where the house would be damp.

    Args:
        case: what it stands on.

    Sources: those of each part; each figure says its own.
    """
    vapour = _vapour(case)
    eaves, wind = eaves_of(case.plan), _wind(case.months)
    side = case.house.rain_side
    panels = case.built.panels
    rain = panel_rain(panels, eaves, wind, exposures(panels, side)) if eaves and wind is not None else ()
    hazard = _decay(case.months)
    figures = (
        *_vapour_figures(case, vapour),
        *drying_figures(case),
        *_rain_figures(case, rain, eaves, wind),
        *hazard,
    )
    return Damp(
        vapour=vapour,
        panels=ranking(case, rain),
        eaves=eaves,
        wind=wind,
        rain_index=_indices(case),
        hazard=decay_hazard(hazard[0].value) if hazard and isinstance(hazard[0].value, float) else "",
        figures=figures,
        checks=(*mould_check(case), *foot_checks(case), *eaves_check(eaves, wind)),
        cautions=(caution("mould-rot"),) if case.house.stated else (),
    )


def _wind(months: MonthlyNormals | None) -> float | None:
    return None if months is None or months.wind is None else STORMY * max(months.wind)


def _vapour(case: DampCase) -> dict[str, VapourYear]:
    if lacking_for_vapour(case) or case.materials is None or case.months is None:
        return {}
    inside, outside = room_air(case.house, case.months, room_volume(case.plan, case.built)), outer_air(case.months)
    return {
        name: vapour_year(cut(layers), inside, outside)
        for name, layers in paths_of(case.plan.section, case.materials).items()
    }


def _vapour_figures(case: DampCase, vapour: dict[str, VapourYear]) -> Iterator[Figure]:
    labels = {"log": "along the log ends", "joint": "through the joints"}
    for name, words in labels.items():
        key, label = f"damp.winter_water.{name}", f"most water that winter leaves within the wall {words}"
        if name not in vapour:
            if case.house.stated:
                yield Figure(
                    key=key, label=label, value=None, unit="kg/m2", bound="unknown", missing=lacking_for_vapour(case),
                    sources=(GLASER,),
                )  # fmt: skip
            continue
        year = vapour[name]
        dries = "none is ever left" if not year.wettest else ("dry again by" if year.dries else "never dry, least in")
        least = int(np.argmin(year.by_month))
        yield Figure(
            key=key,
            label=label + ("" if year.dries else ", and it does not dry out in summer"),
            value=float(max(year.by_month)),
            unit="kg/m2",
            sources=(GLASER, MONTHLY, Cite("iso-10456-memory", "vapour factors"), Cite("humidity-class-memory")),
            steps=(
                *(
                    Step(symbol=f"at the end of {MONTHS[m]}", value=w, unit="kg/m2", formula="left in the wall")
                    for m, w in enumerate(year.by_month) if w > 1e-6
                ),
                Step(symbol=dries, value=None, unit="", formula=f"{MONTHS[least]}; {year.wettest or 'no place wet'}"),
            ),
        )  # fmt: skip


def _rain_figures(
    case: DampCase, rain: tuple[PanelRain, ...], eaves: Eaves | None, wind: float | None
) -> Iterator[Figure]:
    if eaves is None:
        return
    key, label = "damp.wetted_height", "height of wall that driving rain wets under these eaves in the windiest month"
    if wind is None:
        yield Figure(
            key=key, label=label, value=None, unit="m", bound="unknown",
            missing=("the wind of the months (site.months.wind)",), sources=(DRIFT,),
        )  # fmt: skip
        return
    worst = max((r.wetted for r in rain), key=lambda b: b[1])
    side = "square to the wall" if case.house.rain_side is None else "from the side stated"
    yield Figure(
        key=key,
        label=label,
        value=worst[1],
        low=worst[0],
        high=worst[2],
        unit="m",
        sources=(
            DRIFT,
            Cite("gunn-kinzer-1949", "drops"),
            Cite("eaves-edge"),
            MONTHLY,
            *RANKED,
            *((RAIN_INDEX,) if case.wind_year is not None and case.wind_year.rain is not None else ()),
        ),
        steps=(
            Step(symbol="wind", value=wind, unit="m/s", formula=f"mean of the windiest month, {side}", source=MONTHLY),
            Step(symbol="edge of the roof", value=eaves.edge, unit="m", formula="over the bed: head - overhang x slope",
                 source=Cite("eaves-edge")),
            Step(symbol="drops fall", value=fall_speeds()[1], unit="m/s", formula="edge - overhang x fall / wind",
                 source=Cite("gunn-kinzer-1949", "1.6 mm")),
        ),
    )  # fmt: skip


def _decay(months: MonthlyNormals | None) -> tuple[Figure, ...]:
    key, label = "damp.decay_index", "climate index of decay of wood above the ground"
    source = (Cite("scheffer-index"), Cite("scheffer-classes"), MONTHLY)
    if months is None or months.rain_days is None:
        missing = ("the months' temperatures and rain days (site.months)",)
        return (Figure(key=key, label=label, value=None, unit="", bound="unknown", missing=missing, sources=source),)
    index = decay_index(months.temperature, months.rain_days)
    return (
        Figure(
            key=key,
            label=f"{label}: {decay_hazard(index)} (under 35 low, over 65 high)",
            value=index,
            unit="",
            bound="at_least",
            sources=source,
            steps=(
                *(
                    Step(symbol=MONTHS[m], value=(t - 2) * (d - 3) / 16.7, unit="", formula="(T - 2) (days - 3) / 16.7")
                    for m, (t, d) in enumerate(zip(months.temperature, months.rain_days, strict=True))
                    if t > 2 and d > 3
                ),
                Step(
                    symbol="rain days",
                    value=None,
                    unit="",
                    formula="as the station counts them, often from 1 mm: days from 0.25 mm are more",
                ),
            ),
        ),
    )


def _indices(case: DampCase) -> tuple[float | None, ...]:
    """Driving rain of each panel over the year of the station, where wind and rain were measured hour by hour."""
    year = case.wind_year
    if year is None or year.rain is None:
        return (None,) * len(case.built.panels)
    known = ~(np.isnan(year.rain) | np.isnan(year.wind_speed) | np.isnan(year.wind_direction))
    if known.mean() < 0.98:
        return (None,) * len(case.built.panels)
    wind, rain = year.wind_speed[known], year.rain[known] * 1000
    comes = np.radians(year.wind_direction[known])
    return tuple(driving_rain(wind, comes, rain, p.bearing) for p in case.built.panels)
