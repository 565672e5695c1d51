"""Where would the house be damp, in a sentence first and then in rows? For the command line and for the book alike."""

from typing import Final

from cordwright.base import Figure
from cordwright.book.formats import show_missing
from cordwright.book.lettering import Lettering, capped
from cordwright.case import Project
from cordwright.heat.damp import Damp
from cordwright.reckon import Reckoning

RAIN_WORDS: Final = (
    "Thick line: your eaves; thin ones: others. Grey: large drops fall faster, small ones drift farther. Plain "
    "geometry at one wind: gusts, rain running down and splash come on top."
)
PRACTICE_WORDS: Final = (
    "Common practice, no source: the first log ends 13 to 14 in (330 to 356 mm) over the ground, and generous eaves as "
    "the first defence. Sills rot first: let them slope, and give them a drip."
)
VAPOUR_WORDS: Final = (
    "Vapour is followed month by month along a log end and through a joint, straight through the wall, in steady air "
    "and with no air leaking: a leak carries more water than any of this. How freely vapour goes along the grain is "
    "hardly measured anywhere."
)
WINTER_WORDS: Final = (
    "Forecast of the mean log end, one face in the room and one outdoors; grey: one wall in ten faster, one in ten "
    "slower. Black diamonds: your own readings. Heat slowly at first, and seal rings only after the first winter."
)
PATHS: Final = {"log": "along the log ends", "joint": "through the joints"}


def answer(project: Project, reckoning: Reckoning, lettering: Lettering) -> tuple[str, ...]:
    """The answer in sentences: rain, vapour, decay."""
    damp = reckoning.warmth.damp
    return tuple(s for s in (_rain(damp, lettering), *_vapour(damp, lettering), _decay(damp), _side(project)) if s)


def figure_of(damp: Damp, key: str) -> Figure | None:
    """A figure of the damp, None when it is not there."""
    return next((f for f in damp.figures if f.key == key), None)


def _rain(damp: Damp, lettering: Lettering) -> str:
    wet = figure_of(damp, "damp.wetted_height")
    if wet is None:
        return "No roof is stated: how high rain wets the wall is not known."
    if wet.value is None:
        return f"How high rain wets the wall is {show_missing(wet.missing)}."
    if wet.value == 0:
        return "In the windiest month's mean wind no drop reaches the wall under these eaves."
    return f"In the windiest month's mean wind rain wets the lower {lettering.figure(wet)} of the wall."


def _vapour(damp: Damp, lettering: Lettering) -> list[str]:
    said = []
    for name, words in PATHS.items():
        year = damp.vapour.get(name)
        if year is None:
            continue
        most = max(year.by_month)
        if not year.wettest:
            said.append(f"No water is left within the wall {words} in any month.")
        else:
            after = "gone again by summer" if year.dries else "not gone by the next autumn"
            amount = lettering.value(most, "kg/m2")
            said.append(f"Winter leaves up to {amount} {words}, {year.wettest}, {after}.")
    return said


def _decay(damp: Damp) -> str:
    return f"The climate's hazard of decay above the ground is {damp.hazard}." if damp.hazard else ""


def _side(project: Project) -> str:
    if project.heat.house.rain_side is not None:
        return ""
    return "From which side driving rain comes is not stated (heat.rain_from): every panel is taken square to the wind."


def panel_rows(damp: Damp, lettering: Lettering) -> list[tuple[str, ...]]:
    """Panels, the dampest first, those alike in one row: how they face the rain, wetted height, why, cure."""
    rows: dict[tuple[str, ...], list[str]] = {}
    for risk in damp.panels:
        rain = risk.rain
        faces = "–" if rain is None or rain.exposure is None else f"{100 * rain.exposure:.0f} %"
        wetted = "–" if rain is None else lettering.value(rain.wetted[1], "m")
        row = (faces, wetted, capped("; ".join(risk.why)), capped(risk.cure))
        rows.setdefault(row, []).append(risk.panel)
    return [(", ".join(panels), *row) for row, panels in rows.items()]


def water_rows(damp: Damp, lettering: Lettering) -> list[tuple[str, ...]]:
    """Water within the wall at the end of each month, by path [kg/m2]."""
    return [
        (capped(PATHS[name]), *(lettering.bare(w, "kg/m2", 2) if w > 5e-4 else "–" for w in year.by_month))
        for name, year in damp.vapour.items()
    ]
