"""What is expected before the diary says otherwise, and of which wall is it the diary?

The expectations come from earlier stages and from the owner's season; the records replace them day by day.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from cordwright.base import Cite

DAY_HOURS: Final = 7.0
PACE: Final = 0.9
PACE_SD: Final = 0.35
"""Wall laid in a usual day by one person [h, m2/day, m2/day], wide because nothing is known yet.

Sources: assumption (`laying-pace-prior`).
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What is expected of a rate before any record: its mean, its standard deviation, and who says so."""

    mean: float
    sd: float
    source: Cite


USUAL_PACE: Final = Guess(mean=PACE, sd=PACE_SD, source=Cite("laying-pace-prior", "0.9 +- 0.35 m2 in a day"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What is expected of the work.

    `pace`: of one person in a day of `day_hours` [m2/day]; `mortar`: fresh mortar to a square metre of wall, waste
    included [m3/m2]; `logs`: log ends to a square metre [1/m2]; None where it is not known.
    """

    pace: Guess = USUAL_PACE
    day_hours: float = DAY_HOURS
    mortar: Guess | None = None
    logs: Guess | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bag:
    """What one kind of bag gives to the mortar: its name and bags to a cubic metre of fresh mortar [1/m3]."""

    name: str
    per_volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeWall:
    """The wall that the records are about.

    `net_area` [m2]; `panels`: net area by panel [m2]; `log_faces`: wall that each log end of the stock closes with its
    joint, by its mark [m2]; `batch_volume`: fresh mortar of one batch [m3], None when the bucket is not stated; `bags`:
    by kind; `stock`: log ends at hand to be laid, culls and spares left out, None when no stock is stated; `currency`;
    `saturation`: moisture from which a meter says only wet [kg/kg].
    """

    net_area: float
    panels: Mapping[str, float] = field(default_factory=dict)
    log_faces: Mapping[str, float] = field(default_factory=dict)
    batch_volume: float | None = None
    bags: tuple[Bag, ...] = ()
    stock: float | None = None
    currency: str = "EUR"
    saturation: float = 0.30
