"""What does a chain of wet and dry days come to: how many are wet, and how long does it stay dry?

A wet day raises the chance of the next one by `persistence`, a dry one lowers it, and the share of wet days stays.
"""

from typing import Final

from cordwright.base import Cite

CHAIN: Final = Cite("wet-dry-chain")


def wet_day_variance(share: float, persistence: float, days: float) -> float:
    """Variance of the number of wet days among some days in a row, by the chain alone.

    Args:
        share: chance of a wet day [1].
        persistence: of the chain [1].
        days: in a row.

    Sources: closed form (`wet-dry-chain`).
    """
    r = persistence
    in_a_row = days * (1 + r) / (1 - r) - 2 * r * (1 - float(r**days)) / (1 - r) ** 2
    return share * (1 - share) * in_a_row


def dry_window(share: float, persistence: float, days: int) -> float:
    """Chance that some days in a row, beginning on any day, are all dry [1].

    Args:
        share: chance of a wet day [1].
        persistence: of the chain [1].
        days: in a row, at least one.

    Sources: closed form (`wet-dry-chain`).
    """
    return (1 - share) * (1 - share * (1 - persistence)) ** (days - 1)


def mean_spells(share: float, persistence: float) -> tuple[float, float]:
    """Mean length of a dry and of a wet spell [d].

    Args:
        share: chance of a wet day, more than 0 and less than 1 [1].
        persistence: of the chain [1].

    Sources: closed form (`wet-dry-chain`).
    """
    after_dry = share * (1 - persistence)
    return 1 / after_dry, 1 / (1 - after_dry - persistence)
