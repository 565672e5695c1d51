"""Where on the inner face is a laid panel cold, and how much heat goes through every spot?

The temperature factor of a spot is how far it lies from the outdoor toward the indoor temperature: 1 is as warm as the
room. It is taken at the surface itself, from the heat that enters there, not from the middle of a cell.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.heat.field import field_of
from cordwright.heat.panel import Cells, Films
from cordwright.heat.surface_values import Ground, Spot, Surface

Floats = NDArray[np.float64]
Single = NDArray[np.float32]

MOSTLY: Final = 0.95
"""A cell counts as log, mortar or timber when so much of it is."""


def entering(cells: Cells, films: Films, temperature: Single) -> Floats:
    """Heat that enters every cell of the inner face from a room one degree warm [W], shape (rows, columns)."""
    k = cells.kz[cells.kind[cells.layer[-1]]]
    resistance = films.inside + cells.thick[-1] / (2 * np.where(k > 0, k, 1.0))
    return np.where(k > 0, cells.face / resistance * (1 - temperature[-1].astype(np.float64)), 0.0)


def leaving(cells: Cells, films: Films, temperature: Single) -> Floats:
    """Heat that leaves every cell of the outer face to the air at no degrees [W], shape (rows, columns)."""
    k = cells.kz[cells.kind[cells.layer[0]]]
    resistance = films.outside + cells.thick[0] / (2 * np.where(k > 0, k, 1.0))
    return np.where(k > 0, cells.face / resistance * temperature[0].astype(np.float64), 0.0)


def inner_surface(cells: Cells, films: Films, temperature: Single) -> Surface:
    """The inner face of a panel between a room at one degree and outside air at none.

    Args:
        cells: the panel.
        films: surface resistances under which it was solved.
        temperature: of all cells [1], shape (depths, rows, columns).

    Sources: closed form, surface temperature by the heat that enters.
    """
    there = cells.kz[cells.kind[cells.layer[-1]]] > 0
    flux = entering(cells, films, temperature) / cells.face
    factor = np.where(there, 1 - flux * films.inside, np.nan)
    timber = np.maximum(cells.timber, cells.lintel)
    bare = there & (timber < 1 - MOSTLY)
    grounds: dict[Ground, NDArray[np.bool_]] = {
        "log": bare & (cells.wood > MOSTLY),
        "mortar": bare & (cells.wood < 1 - MOSTLY) & (cells.net > MOSTLY),
        "timber": there & (timber > MOSTLY),
    }
    known = {name: mask for name, mask in grounds.items() if mask.any()}
    return Surface(
        factor=field_of(factor),
        flux=field_of(np.where(there, flux, np.nan)),
        worst=tuple(_coldest(name, mask, factor, cells) for name, mask in known.items()),
        mean=tuple((name, float(np.average(factor[mask], weights=cells.face[mask]))) for name, mask in known.items()),
    )


def _coldest(name: Ground, mask: NDArray[np.bool_], factor: Floats, cells: Cells) -> Spot:
    row, column = np.unravel_index(int(np.argmin(np.where(mask, factor, np.inf))), factor.shape)
    return Spot(
        ground=name,
        x=float((cells.xe[column] + cells.xe[column + 1]) / 2),
        y=float((cells.ye[row] + cells.ye[row + 1]) / 2),
        factor=float(factor[row, column]),
    )
