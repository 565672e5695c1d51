"""What in the owner's words about heating no house can have?"""

from collections.abc import Iterator

from cordwright.base import Cite, Problem
from cordwright.heat.house_inputs import HouseInput, Insulation

COLDEST_ROOM, WARMEST_ROOM = 5.0, 30.0
LEAST_U, MOST_U = 0.3, 7.0
"""U-values a window or door has [W/m2K]; beyond them a digit slipped."""


LIMITS = Cite("house-limits")


def find_house_faults(house: HouseInput) -> tuple[Problem, ...]:
    """Name values that contradict each other or that no house has.

    Args:
        house: as the owner states it.

    Sources: ranges are assumptions (`house-limits`).
    """
    if not house.stated:
        return ()
    return (*_temperatures(house), *_insulations(house), *_u_values(house), *_stove(house), *_air(house))


def _temperatures(house: HouseInput) -> Iterator[Problem]:
    wanted, design = house.set_temperature, house.design_temperature
    assert wanted is not None
    if not COLDEST_ROOM <= wanted <= WARMEST_ROOM:
        yield Problem(
            field="heat.set_temperature",
            message=f"{wanted:g} degC is no room to live or work in",
            hint=f"from {COLDEST_ROOM:g} to {WARMEST_ROOM:g} degC; a sauna's hot hours are no heating season",
        )
    if design is not None and design >= wanted:
        yield Problem(
            field="heat.design_temperature",
            message=f"the coldest days, {design:g} degC, are not colder than the room, {wanted:g} degC",
            hint="write the temperature outdoors that heating is sized for where you build",
        )


def _insulations(house: HouseInput) -> Iterator[Problem]:
    for key, layer in (("heat.roof", house.roof.insulation), ("heat.floor", house.floor.insulation)):
        yield from _insulation(key, layer)
    floor = house.floor
    wanted = (floor.edge_insulation.thickness, floor.edge_reach, floor.edge_insulation.material or None)
    if floor.edge != "none" and None in wanted:
        yield Problem(
            field="heat.floor.edge",
            message=f"the {floor.edge} edge insulation is not whole",
            hint="state edge_insulation (its thickness), edge_material and edge_reach",
        )


def _insulation(key: str, layer: Insulation) -> Iterator[Problem]:
    if layer.material and layer.conductivity is not None:
        yield Problem(
            field=f"{key}.conductivity",
            message=f"both a material ({layer.material}) and a conductivity are stated",
            hint="keep one: your own conductivity, or the material with the table's spread",
        )
    if layer.thickness and not layer.material and layer.conductivity is None:
        yield Problem(
            field=f"{key}.insulation",
            message="it is not said what the insulation is",
            hint="add material, or conductivity from its bag",
            severity="warning",
        )


def _u_values(house: HouseInput) -> Iterator[Problem]:
    stated = [("heat.windows.u_value", house.windows.u_value), ("heat.door_u_value", house.door_u_value)]
    stated += [(f"heat.roof_lights[{n}].u_value", light.u_value) for n, light in enumerate(house.roof_lights)]
    for key, u in stated:
        if u is not None and not LEAST_U <= u <= MOST_U:
            yield Problem(
                field=key,
                message=f"{u:g} W/m2K is the U-value of no window or door",
                hint=f"from {LEAST_U:g} to {MOST_U:g} W/m2K",
            )


def _stove(house: HouseInput) -> Iterator[Problem]:
    fires = house.stove.fires
    if not fires or len({int(h) for h in fires}) != len(fires):
        yield Problem(
            field="heat.stove.fires",
            message="two fires fall into the same hour" if fires else "no fire is ever lit",
            hint='name the hours it is lit on a usual day: ["07:00", "17:00"]',
        )


def _air(house: HouseInput) -> Iterator[Problem]:
    if house.air_changes is not None and house.fan_test is not None:
        yield Problem(
            field="heat.fan_test",
            message="both air_changes and a fan test (fan_test) are stated",
            hint="keep one; the fan test is the better",
        )
