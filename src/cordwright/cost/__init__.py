"""What must be ordered, with which delivery does it come, and what does it come to?"""

from cordwright.cost.faults import find_faults
from cordwright.cost.inputs import CostInput, Delivery, PriceRow
from cordwright.cost.money import Span
from cordwright.cost.order import order_lines, reckon_cost
from cordwright.cost.quantities import packs
from cordwright.cost.results import Group, OrderLine, OrderList

__all__ = [
    "CostInput",
    "Delivery",
    "Group",
    "OrderLine",
    "OrderList",
    "PriceRow",
    "Span",
    "find_faults",
    "order_lines",
    "packs",
    "reckon_cost",
]
