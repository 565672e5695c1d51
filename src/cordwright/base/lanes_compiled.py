"""How are lanes compiled: which vector of the processor are they, and by which instruction is each thing done?

Needs numba. `teach` is called once, by `lanes`. What stands here is handed to numba, which looks names of parameters up
by themselves and calls every maker of code with a context, a builder, a signature and the values given.
"""

import operator
from collections.abc import Callable
from typing import Any

from llvmlite import ir  # type: ignore[import-untyped, unused-ignore]
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic, models, overload, register_model

Maker = Callable[..., Any]
tools: Any = cgutils
intrinsic_of: Any = intrinsic
register: Any = register_model


class LanesType(types.Type):  # type: ignore[misc, unused-ignore]
    """The type of lanes."""

    def __init__(self, count: int) -> None:
        name: Any = super().__init__
        name(name=f"lanes{count}")
        self.vector = ir.VectorType(ir.FloatType(), count)


class _Model(models.PrimitiveModel):  # type: ignore[misc, unused-ignore]
    def __init__(self, manager: Any, kind: Any) -> None:
        made: Any = super().__init__
        made(manager, kind, kind.vector)


register(LanesType)(_Model)


def _pointer(context: Any, builder: Any, row: Any, place: Any, given: Any, vector: Any) -> Any:
    """To the number of an array at a place, as one to a whole vector."""
    held = context.make_array(row)(context, builder, given[0])
    numbers = zip(tools.unpack_tuple(builder, given[1]), place, strict=True)
    at = [context.cast(builder, number, kind, types.intp) for number, kind in numbers]
    shape, strides = (tools.unpack_tuple(builder, part) for part in (held.shape, held.strides))
    found = tools.get_item_pointer2(context, builder, held.data, shape, strides, row.layout, at)
    return builder.bitcast(found, vector.as_pointer())


def _load(kind: LanesType) -> Any:
    def load(_typing: Any, row: Any, place: Any) -> tuple[Any, Maker]:
        def made(context: Any, builder: Any, _signature: Any, given: Any) -> Any:
            return builder.load(_pointer(context, builder, row, place, given, kind.vector), align=4)

        return kind(row, place), made

    return intrinsic_of(load)


def _store(kind: LanesType) -> Any:
    def store(_typing: Any, row: Any, place: Any, lanes: Any) -> tuple[Any, Maker]:
        def made(context: Any, builder: Any, _signature: Any, given: Any) -> Any:
            builder.store(given[2], _pointer(context, builder, row, place, given, kind.vector), align=4)
            return context.get_dummy_value()

        return types.void(row, place, lanes), made

    return intrinsic_of(store)


def _spread(kind: LanesType) -> Any:
    nothing = ir.Constant(kind.vector, ir.Undefined)
    first = ir.IntType(32)(0)
    everywhere = ir.Constant(ir.VectorType(ir.IntType(32), kind.vector.count), [0] * kind.vector.count)

    def spread(_typing: Any, value: Any) -> tuple[Any, Maker]:
        def made(context: Any, builder: Any, _signature: Any, given: Any) -> Any:
            number = context.cast(builder, given[0], value, types.float32)
            return builder.shuffle_vector(builder.insert_element(nothing, number, first), nothing, everywhere)

        return kind(value), made

    return intrinsic_of(spread)


def _together(kind: LanesType) -> Any:
    def together(_typing: Any, lanes: Any) -> tuple[Any, Maker]:
        def made(_context: Any, builder: Any, _signature: Any, given: Any) -> Any:
            total = ir.Constant(ir.DoubleType(), 0.0)
            for n in range(kind.vector.count):
                number = builder.extract_element(given[0], ir.IntType(32)(n))
                total = builder.fadd(total, builder.fpext(number, ir.DoubleType()))
            return total

        return types.float64(lanes), made

    return intrinsic_of(together)


def _instruction(kind: LanesType, name: str) -> Any:
    """An instruction on two lanes; a product and a sum may be rounded once together."""

    def work(_typing: Any, a: Any, b: Any) -> tuple[Any, Maker]:
        def made(_context: Any, builder: Any, _signature: Any, given: Any) -> Any:
            return getattr(builder, name)(*given, flags=("contract",))

        return kind(a, b), made

    return intrinsic_of(work)


def teach(count: int, take: Maker, give: Maker, lanes_of: Maker, summed: Maker) -> None:
    """Tell numba how to compile the four functions, and + - * of lanes and number times lanes.

    Args:
        count: of lanes.
        take: see `lanes`.
        give: see `lanes`.
        lanes_of: see `lanes`.
        summed: see `lanes`.
    """
    kind = LanesType(count)
    load, store, spread, together = _load(kind), _store(kind), _spread(kind), _together(kind)
    overload(take)(lambda row, place: lambda row, place: load(row, place))
    overload(give)(lambda row, place, lanes: lambda row, place, lanes: store(row, place, lanes))
    overload(lanes_of)(lambda value: lambda value: spread(value))
    overload(summed)(lambda lanes: lambda lanes: together(lanes))
    for operation, name in ((operator.add, "fadd"), (operator.sub, "fsub"), (operator.mul, "fmul")):
        overload(operation)(_of_two(kind, _instruction(kind, name)))
    multiply = _instruction(kind, "fmul")
    overload(operator.mul)(
        lambda a, b: (lambda a, b: multiply(spread(a), b)) if isinstance(a, types.Number) and b == kind else None
    )


def _of_two(kind: LanesType, work: Any) -> Maker:
    return lambda a, b: (lambda a, b: work(a, b)) if a == kind and b == kind else None
