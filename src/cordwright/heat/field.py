"""How is a map of a panel kept: temperatures or heat of every cell of a face, in little room and as plain values?"""

import base64
import math
import zlib
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

NOTHING: Final = 65535
"""Stands where there is no wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A map of rows and columns in steps of its range: 65534 steps, so a temperature is true to a few millionths.

    `least` and `step` are in the map's unit; `packed` holds the steps.
    """

    rows: int
    columns: int
    least: float
    step: float
    packed: str

    def values(self) -> NDArray[np.float64]:
        """The map, shape (rows, columns), NaN where there is nothing."""
        steps = np.frombuffer(zlib.decompress(base64.b64decode(self.packed)), "<u2").reshape(self.rows, self.columns)
        return np.where(steps == NOTHING, math.nan, self.least + self.step * steps)


def field_of(values: NDArray[np.float64] | NDArray[np.float32]) -> Field:
    """Keep a map.

    Args:
        values: shape (rows, columns), NaN where there is nothing.
    """
    known = np.isfinite(values)
    least, most = (float(values[known].min()), float(values[known].max())) if known.any() else (0.0, 0.0)
    step = (most - least) / (NOTHING - 1) or 1.0
    steps = np.full(values.shape, NOTHING, "<u2")
    steps[known] = np.rint((values[known] - least) / step).astype("<u2")
    packed = base64.b64encode(zlib.compress(steps.tobytes(), 6)).decode("ascii")
    return Field(rows=values.shape[0], columns=values.shape[1], least=least, step=step, packed=packed)
