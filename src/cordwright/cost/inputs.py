"""What does the owner know of prices?"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRow:
    """One row of prices.csv. `quantity` None: blank, to be computed from `covers`. `unit_price` None: unknown; 0: own.

    `covers` is the key of the figure this row buys (`mortar.cement`); `unit_amount` is how much of that figure one
    priced unit holds, in the figure's SI unit (a 25 kg bag: 25.0), and `unit_text` the owner's words for it. `step` is
    the smallest share of a unit that is sold (1: whole units). A row with neither quantity nor `covers` is unknown.
    `part_of` groups the rows (mortar, fill, frame, roof, ...).
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CostInput:
    """The price list, its currency (ISO 4217) and how many decimals money has; `purse` is what the owner can spend."""

    rows: tuple[PriceRow, ...] = ()
    currency: str = "EUR"
    decimals: int = 2
    purse: float | None = None
    file: str = ""
