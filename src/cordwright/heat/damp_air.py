"""How much vapour is in the room's air and outdoors, and by which ways does it go through the wall?"""

from typing import Final

from cordwright.base import table
from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.section import layers_of
from cordwright.heat.vapour import Air, DampLayer
from cordwright.plan.inputs import WallSection
from cordwright.site import MonthlyNormals, saturation_pressure

GAS: Final = 461.5
"""Gas constant of water vapour [J/(kg K)]."""


def over_pressure(house: HouseInput, volume: float | None, outside: float) -> float:
    """How much more vapour the room's air holds than the air outdoors [Pa].

    By the people in it and the air that changes where both are stated, else as in a dwelling; with the windows opened
    as it grows warm it falls to nothing.

    Args:
        house: as stated.
        volume: of the room [m3].
        outside: temperature of the month [degC].

    Sources: humidity classes as remembered (`humidity-class-memory`); vapour of people (`people-memory`).
    """
    row = table("house")
    most, none_at = float(row["vapour"]["over_pressure"]), row["vapour"]["none_at"]
    changes = house.air_changes if house.air_changes is not None else (house.fan_test or 0.0) / 20
    if house.people is not None and changes and volume and house.set_temperature is not None:
        given = house.people * row["people"]["vapour"] / (changes * volume)
        most = given * GAS * (house.set_temperature + 273.15)
    return float(most * min(1.0, max(0.0, (none_at - outside) / none_at)))


def room_air(house: HouseInput, months: MonthlyNormals, volume: float | None) -> tuple[Air, ...]:
    """The air of the room in each month: its warmth as wanted, its vapour as stated or by how it is used.

    Args:
        house: as stated, with a set temperature.
        months: of the site, with humidity.
        volume: of the room [m3], None where it is not known.

    Sources: humidity classes as remembered (`humidity-class-memory`).
    """
    assert house.set_temperature is not None
    assert months.humidity is not None
    found = []
    for t, h in zip(months.temperature, months.humidity, strict=True):
        inside = max(house.set_temperature, t)
        outside = h * saturation_pressure(t)
        if house.indoor_humidity is not None:
            pressure = max(outside, house.indoor_humidity * saturation_pressure(inside))
        else:
            pressure = outside + over_pressure(house, volume, t)
        found.append(Air(temperature=inside, pressure=min(pressure, saturation_pressure(inside))))
    return tuple(found)


def outer_air(months: MonthlyNormals) -> tuple[Air, ...]:
    """The air outdoors in each month."""
    assert months.humidity is not None
    return tuple(
        Air(temperature=t, pressure=h * saturation_pressure(t))
        for t, h in zip(months.temperature, months.humidity, strict=True)
    )


def paths_of(section: WallSection, materials: WallMaterials) -> dict[str, tuple[DampLayer, ...]]:
    """The two ways through the wall, from inside to outside: along a log end, and through the joint.

    Args:
        section: of the wall.
        materials: what it is made of.

    Sources: `iso-10456-memory`, `along-grain-vapour-memory`.
    """
    row = table("house")["vapour"]
    fill = materials.fill if materials.fill is not None else materials.mortar
    names = ("the inner bead", "the fill", "the outer bead")
    joint = layers_of(section)
    log = DampLayer(
        name="the log end",
        thickness=section.thickness,
        conductivity=materials.along.value,
        vapour_factor=row["along_grain"][1],
    )
    through = tuple(
        DampLayer(
            name=names[n] if len(joint) == 3 else "the joint",
            thickness=d,
            conductivity=(materials.mortar if mortar else fill).value,
            vapour_factor=row["mortar" if mortar else "fill"][1],
        )
        for n, (d, mortar) in enumerate(joint)
    )
    return {"log": (log,), "joint": through}
