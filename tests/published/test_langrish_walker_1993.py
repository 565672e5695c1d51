"""T. A. G. Langrish, J. C. F. Walker: Transport processes in wood, 1993 (`langrish-walker-1993`).

Diffusion along over across the grain: about 100 at 5 % moisture, 2 to 4 at 25 %. The one ratio taken here lies between.
"""

import math

from cordwright.base import table


def test_the_ratio_taken_is_met_between_15_and_20_percent() -> None:
    ratio = table("seasoning")["diffusion"]["along"]
    for at_25 in (2.0, 4.0):
        fall = math.log(100 / at_25) / (0.25 - 0.05)
        moisture = 0.05 + math.log(100 / ratio) / fall
        assert 0.15 < moisture < 0.21
