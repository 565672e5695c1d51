"""How far may a number move when what it stands on moves?"""

from dataclasses import dataclass
from typing import Self


@dataclass(frozen=True, slots=True)
class Spread:
    """A positive quantity with its low and high, all in one unit.

    Products and quotients take the worst corners: the spread of the result holds every combination.
    """

    low: float
    middle: float
    high: float

    @classmethod
    def exact(cls, value: float) -> Self:
        """A quantity without spread."""
        return cls(value, value, value)

    def __add__(self, other: "Spread") -> "Spread":
        return Spread(self.low + other.low, self.middle + other.middle, self.high + other.high)

    def __mul__(self, factor: "Spread | float") -> "Spread":
        by = factor if isinstance(factor, Spread) else Spread.exact(factor)
        return Spread(self.low * by.low, self.middle * by.middle, self.high * by.high)

    def __truediv__(self, divisor: "Spread | float") -> "Spread":
        by = divisor if isinstance(divisor, Spread) else Spread.exact(divisor)
        return Spread(self.low / by.high, self.middle / by.middle, self.high / by.low)

    def at_least(self, floor: float) -> "Spread":
        """The same, but nowhere below a physical floor in its unit."""
        return Spread(max(self.low, floor), max(self.middle, floor), max(self.high, floor))

    @property
    def ends(self) -> tuple[float | None, float | None]:
        """Low and high as a figure carries them: none where there is no spread."""
        return (None, None) if self.low == self.high else (self.low, self.high)
