"""Do face, foot and eaves of the wall stand up to mould, splash, snow and rain?"""

from collections.abc import Iterator

from cordwright.base import Check, Cite, Step, table
from cordwright.heat.damp_air import outer_air, room_air
from cordwright.heat.damp_case import DampCase, lacking_for_vapour
from cordwright.heat.house_shell import room_volume
from cordwright.heat.mould import FACE, needed_factor, plain_factor
from cordwright.heat.rain import (
    Eaves,
    fall_speeds,
    needed_overhang,
)
from cordwright.site.climate import MONTHS

GLASER = Cite("iso-13788-memory", "monthly vapour balance")
DRIFT = Cite("rain-drift")
PLINTH = Cite("plinth-practice", "13 to 14 in over the ground")
MONTHLY = Cite("owner", "site.months")
TOO_DAMP = Step(symbol="over 1", value=None, unit="", formula="no wall is warm enough: less vapour, or more air")


def mould_check(case: DampCase) -> Iterator[Check]:
    """Hold the temperature factor that the inner face needs in the hardest month beside the one it has."""
    if not case.house.stated:
        return
    key, label = "damp.mould", "temperature factor that the inner face needs against mould, beside what it has"
    actual = case.face_factor
    if actual is None and case.u is not None:
        actual = plain_factor(case.u, FACE)
    lacking = lacking_for_vapour(case) + (() if actual is not None else ("the wall's U-value",))
    if lacking or case.months is None:
        yield Check(
            key=key, label=label, demand=None, capacity=actual, unit="1", sources=(GLASER,),
            not_judged="missing: " + ", ".join(dict.fromkeys(lacking)),
        )  # fmt: skip
        return
    inside, outside = room_air(case.house, case.months, room_volume(case.plan, case.built)), outer_air(case.months)
    needs = [
        (needed_factor(i.pressure, i.temperature, o.temperature), m)
        for m, (i, o) in enumerate(zip(inside, outside, strict=True))
        if i.temperature - o.temperature > 5
    ]
    worst, month = max(needs)
    how = "straight through the wall; beside large logs it is less" if case.face_factor is None else case.face_how
    yield Check(
        key=key,
        label=label,
        demand=max(0.0, worst),
        capacity=actual,
        unit="1",
        sources=(GLASER, Cite("humidity-class-memory")),
        steps=(
            Step(symbol="hardest month", value=None, unit="", formula=MONTHS[month]),
            Step(symbol="vapour in the room", value=inside[month].pressure, unit="", formula="Pa"),
            Step(symbol="factor of the face", value=actual, unit="1", formula=how),
            *((TOO_DAMP,) if worst > 1 else ()),
        ),
    )


def foot_checks(case: DampCase) -> Iterator[Check]:
    """The wall's foot over the ground beside splash and lying snow."""
    plinth, snow = case.plan.plinth_height, case.house.lying_snow
    low, high = table("house")["rain"]["splash"]
    yield Check(
        key="damp.splash",
        label="height of the plinth against splash from the ground (common practice)",
        demand=low,
        low=low,
        high=high,
        capacity=plinth,
        unit="m",
        sources=(PLINTH, Cite("owner", "plinth.height")),
        not_judged="" if plinth is not None else "the plinth's height is not stated",
    )
    if snow is None and not case.house.stated:
        return
    yield Check(
        key="damp.snow",
        label="height of the plinth beside lying snow",
        demand=snow,
        capacity=plinth,
        unit="m",
        sources=(Cite("owner", "heat.lying_snow"), PLINTH),
        not_judged="" if None not in (plinth, snow) else "the plinth's height or heat.lying_snow is not stated",
    )


def eaves_check(eaves: Eaves | None, wind: float | None) -> Iterator[Check]:
    """Hold the eaves beside those under which the windiest month's wind brings no drop to the wall."""
    if eaves is None:
        return
    needed = None
    if wind is not None:
        needed = [needed_overhang(eaves, wind, f) for f in sorted(fall_speeds(), reverse=True)]
    yield Check(
        key="damp.eaves",
        label="eaves that keep driving rain of the windiest month off the whole wall",
        demand=None if needed is None else needed[1],
        low=None if needed is None else needed[0],
        high=None if needed is None else needed[2],
        capacity=eaves.overhang,
        unit="m",
        sources=(DRIFT, Cite("gunn-kinzer-1949", "drops"), Cite("eaves-edge"), Cite("owner", "roof.overhang")),
        steps=(
            Step(symbol="wind", value=wind, unit="m/s", formula="mean of the windiest month", source=MONTHLY),
            Step(symbol="drops fall", value=fall_speeds()[1], unit="m/s", source=Cite("gunn-kinzer-1949", "1.6 mm")),
        ),
        not_judged="" if wind is not None else "the wind of the months is not stated (site.months.wind)",
    )
