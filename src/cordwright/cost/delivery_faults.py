"""Which delivery is named that nobody stated, and which stated one brings nothing?"""

from collections.abc import Iterator
from difflib import get_close_matches

from cordwright.base import Problem
from cordwright.cost.inputs import CostInput
from cordwright.mortar import outside


def delivery_faults(cost: CostInput) -> Iterator[Problem]:
    """Name what is wrong with the deliveries. A list that states none may name any.

    Args:
        cost: the price list and the deliveries.
    """
    yield from _stated(cost)
    yield from _named(cost)


def _stated(cost: CostInput) -> Iterator[Problem]:
    coming = {row.delivery for row in cost.rows}
    names = [d.name for d in cost.deliveries]
    for i, delivery in enumerate(cost.deliveries):
        field = f"cost.deliveries[{i}]"
        what = f"what one trip of {delivery.name} carries"
        yield from outside(f"{field}.carries", what, delivery.carries, "unit_amount", unit="kg")
        if delivery.name in names[:i]:
            yield Problem(field=f"{field}.name", message=f"{delivery.name} is stated twice", hint="keep one of the two")
        elif cost.rows and delivery.name not in coming:
            yield Problem(
                field=f"{field}.name",
                message=f"no row of the price list comes with {delivery.name}",
                hint="write this name in the column delivery of the rows that do",
                severity="warning",
            )


def _named(cost: CostInput) -> Iterator[Problem]:
    names = [d.name for d in cost.deliveries]
    for i, row in enumerate(cost.rows):
        if not names or not row.delivery or row.delivery in names:
            continue
        near = get_close_matches(row.delivery, names, n=1)
        yield Problem(
            field=f"prices[{i}].delivery",
            message=f"{row.item} comes with {row.delivery!r}, which is none of the deliveries stated",
            hint=f"the nearest is {near[0]}" if near else f"stated are: {', '.join(names)}",
            severity="warning",
        )
