"""What does the owner know of prices, and of the deliveries things come with?"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

Given = Literal["", "own", "free"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRow:
    """One row of prices.csv. `quantity` None: blank, to be computed from `covers`. `unit_price` None: unknown; 0: own.

    How much is bought: `covers` is the key of the figure this row buys (`mortar.cement`), `share` the part of it [1]
    where several rows buy it together, `waste` what is lost of it between shop and wall [1]; `unit_amount` is how much
    of that figure one priced unit holds, in the figure's SI unit (a 25 kg bag: 25.0), and `unit_text` the owner's words
    for it. `step` is the smallest share of a unit that is sold (1: whole units), `pack` the units in a pack that is
    sold whole, `spare` the units bought beyond the need. A row with neither quantity nor `covers` is unknown.

    What it costs: `unit_price` in the project's currency, from `price_low` to `price_high` or `price_spread` either way
    [1]; asked on `price_date` of `price_source`. `given` keeps the owner's word for what costs nothing.

    What becomes of it: the `delivery` it comes with, `unit_mass` [kg] to carry, `paid` so far on `paid_date`, `owed`
    what is still to be paid after that (None with `paid`: nothing). `part_of` groups the rows (mortar, fill, frame,
    roof, ...), `trade` by who works with them.
    """

    item: str
    line: int
    quantity: float | None
    unit_price: float | None
    covers: str = ""
    unit_amount: float | None = None
    unit_text: str = ""
    step: float = 1.0
    part_of: str = ""
    share: float | None = None
    waste: float = 0.0
    pack: float | None = None
    spare: float = 0.0
    given: Given = ""
    price_low: float | None = None
    price_high: float | None = None
    price_spread: float | None = None
    price_date: date | None = None
    price_source: str = ""
    delivery: str = ""
    unit_mass: float | None = None
    paid: float | None = None
    paid_date: date | None = None
    owed: float | None = None
    trade: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """One delivery or trip: its name in the price list, its day or the stage of the work, what one trip carries [kg].

    `trips`: how many the owner means to make, None unknown.
    """

    name: str
    day: date | None = None
    stage: str = ""
    carries: float | None = None
    trips: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CostInput:
    """The price list, its currency (ISO 4217) and how many decimals money has; `purse` is what the owner can spend.

    `as_of`: the day on which the age of the prices is told, None unknown. `deliveries` in the order in which they come.
    """

    rows: tuple[PriceRow, ...] = ()
    currency: str = "EUR"
    decimals: int = 2
    purse: float | None = None
    file: str = ""
    as_of: date | None = None
    deliveries: tuple[Delivery, ...] = ()
