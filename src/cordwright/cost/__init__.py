"""What must be ordered, and what does it come to?"""

from cordwright.cost.faults import find_faults
from cordwright.cost.inputs import CostInput, PriceRow
from cordwright.cost.order import order_line, packs, reckon_cost
from cordwright.cost.results import OrderLine, OrderList

__all__ = ["CostInput", "OrderLine", "OrderList", "PriceRow", "find_faults", "order_line", "packs", "reckon_cost"]
