"""How much does a wood shrink, and how heavy is it?"""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from cordwright.base import InputError, table
from cordwright.timber.inputs import Species, TimberInput

WATER: Final = 1000.0
"""Density of water [kg/m3] to which a specific gravity refers."""


@cache
def known_species() -> Mapping[str, Species]:
    """Give the woods of the packaged table by their common names.

    Sources: each row of `data/species.toml` names its own.
    """
    return MappingProxyType({name: _species(name, row) for name, row in table("species").items()})


def _species(name: str, row: Mapping[str, Any]) -> Species:
    radial, tangential = _share(row, "radial_percent"), _share(row, "tangential_percent")
    mean = _share(row, "mean_percent")
    if mean is None and radial is not None and tangential is not None:
        mean = (radial + tangential) / 2
    gravity = row.get("basic_gravity")
    return Species(
        name=name,
        label=name,
        shrinkage=mean,
        radial=radial,
        tangential=tangential,
        volumetric=_share(row, "volumetric_percent"),
        basic_density=None if gravity is None else gravity * WATER,
        sources=tuple(row["sources"]),
    )


def _share(row: Mapping[str, Any], key: str) -> float | None:
    return None if key not in row else row[key] / 100


def species_named(name: str) -> Species:
    """Give a wood of the packaged table by its common name.

    Raises:
        InputError: there is no such wood.
    """
    if name not in known_species():
        raise InputError(f"there is no wood {name!r} in the table; known are {', '.join(known_species())}")
    return known_species()[name]


def wood_of(timber: TimberInput, name: str) -> Species:
    """Give the wood a stem or pile names: the owner's own row, else the table's, else one of which nothing is known."""
    own = next((s for s in timber.species if s.name == name), None)
    return own or known_species().get(name) or Species(name=name, label=name)
