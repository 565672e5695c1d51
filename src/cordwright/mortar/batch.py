"""How many whole batches, bags or packs cover a need?"""

import math
from typing import Final

GUARD: Final = 1e-9
"""A need that passes a whole number by less than this share is rounding in the last digits, not a need."""


def whole_up(count: float) -> int:
    """Smallest whole number that covers a count.

    Sources: common practice, what is sold or mixed whole is rounded up.
    """
    return math.ceil(count * (1.0 - GUARD))


def batches(volume: float, batch_volume: float) -> int:
    """Whole batches that make a volume of fresh mortar.

    Args:
        volume: fresh mortar wanted [m3].
        batch_volume: fresh mortar from one batch [m3].
    """
    return whole_up(volume / batch_volume)
