"""How does a kernel work on several neighbours of a row at once?

`take` gives as many numbers as a processor handles together, `give` puts them back; in between they are added and
multiplied like one number. Said so, the compiler need not first find out whether arrays overlap, which in short loops
costs more than the work. Where numba does not stand the same text runs on slices.
"""

from collections.abc import Callable
from typing import Any, Final, TypeVar

import numpy as np
from numpy.typing import NDArray

LANES: Final = 8
"""How many single floats go together: those of one 256-bit vector."""

Lanes = NDArray[np.float32]
"""So many neighbours, where the text runs interpreted; a vector of the processor where it is compiled."""
Place = tuple[int, ...]
Work = TypeVar("Work", bound=Callable[..., Any])


def take(row: NDArray[np.float32], place: Place) -> Lanes:
    """The neighbours that begin at a place; it is not checked that the row holds so many."""
    *before, i = place
    return row[(*before, slice(i, i + LANES))].copy()


def give(row: NDArray[np.float32], place: Place, lanes: Lanes) -> None:
    """Put neighbours back, beginning at a place; it is not checked that the row holds so many."""
    *before, i = place
    row[(*before, slice(i, i + LANES))] = lanes


def lanes_of(value: float) -> Lanes:
    """The same number in every lane."""
    return np.full(LANES, value, np.float32)


def summed(lanes: Lanes) -> float:
    """All lanes together, added in double precision."""
    return float(lanes.sum(dtype=np.float64))


def _teach() -> None:
    """Tell numba, where it stands, what lanes are and how it may compile the four functions and + - *."""
    try:
        from llvmlite import ir
        from numba import types
        from numba.core import cgutils
        from numba.extending import intrinsic, models, overload, register_model
    except ImportError:
        return
    vector = ir.VectorType(ir.FloatType(), LANES)

    class LanesType(types.Type):  # type: ignore[misc, unused-ignore]
        def __init__(self) -> None:
            super().__init__(name=f"lanes{LANES}")

    kind = LanesType()

    @register_model(LanesType)
    class LanesModel(models.PrimitiveModel):  # type: ignore[misc, unused-ignore]
        def __init__(self, manager: Any, given: Any) -> None:
            super().__init__(manager, given, vector)

    def pointer(context: Any, builder: Any, array_type: Any, array: Any, place_type: Any, place: Any) -> Any:
        held = context.make_array(array_type)(context, builder, array)
        at = [
            context.cast(builder, index, given, types.intp)
            for index, given in zip(cgutils.unpack_tuple(builder, place), place_type, strict=True)
        ]
        shape = cgutils.unpack_tuple(builder, held.shape)
        strides = cgutils.unpack_tuple(builder, held.strides)
        found = cgutils.get_item_pointer2(context, builder, held.data, shape, strides, array_type.layout, at)
        return builder.bitcast(found, vector.as_pointer())

    @intrinsic  # type: ignore[untyped-decorator, unused-ignore]
    def load(_typing: Any, row: Any, place: Any) -> Any:
        def made(context: Any, builder: Any, signature: Any, given: Any) -> Any:
            return builder.load(pointer(context, builder, row, given[0], place, given[1]), align=4)

        return kind(row, place), made

    @intrinsic  # type: ignore[untyped-decorator, unused-ignore]
    def store(_typing: Any, row: Any, place: Any, lanes: Any) -> Any:
        def made(context: Any, builder: Any, signature: Any, given: Any) -> Any:
            builder.store(given[2], pointer(context, builder, row, given[0], place, given[1]), align=4)
            return context.get_dummy_value()

        return types.void(row, place, lanes), made

    @intrinsic  # type: ignore[untyped-decorator, unused-ignore]
    def spread(_typing: Any, value: Any) -> Any:
        def made(context: Any, builder: Any, signature: Any, given: Any) -> Any:
            number = context.cast(builder, given[0], value, types.float32)
            one = builder.insert_element(ir.Constant(vector, ir.Undefined), number, ir.IntType(32)(0))
            zeros = ir.Constant(ir.VectorType(ir.IntType(32), LANES), [0] * LANES)
            return builder.shuffle_vector(one, ir.Constant(vector, ir.Undefined), zeros)

        return kind(value), made

    @intrinsic  # type: ignore[untyped-decorator, unused-ignore]
    def together(_typing: Any, lanes: Any) -> Any:
        def made(context: Any, builder: Any, signature: Any, given: Any) -> Any:
            total = ir.Constant(ir.DoubleType(), 0.0)
            for n in range(LANES):
                number = builder.extract_element(given[0], ir.IntType(32)(n))
                total = builder.fadd(total, builder.fpext(number, ir.DoubleType()))
            return total

        return types.float64(lanes), made

    overload(take, inline="always")(lambda row, place: lambda row, place: load(row, place))
    overload(give, inline="always")(lambda row, place, lanes: lambda row, place, lanes: store(row, place, lanes))
    overload(lanes_of, inline="always")(lambda value: lambda value: spread(value))
    overload(summed, inline="always")(lambda lanes: lambda lanes: together(lanes))
    _teach_sums(kind, intrinsic, overload, spread)


def _teach_sums(kind: Any, intrinsic: Any, overload: Any, spread: Any) -> None:
    import operator

    def instruction(name: str) -> Any:
        @intrinsic  # type: ignore[untyped-decorator, unused-ignore]
        def work(_typing: Any, a: Any, b: Any) -> Any:
            def made(context: Any, builder: Any, signature: Any, given: Any) -> Any:
                return getattr(builder, name)(*given, flags=("contract",))

            return kind(a, b), made

        return work

    def both(work: Any) -> Any:
        return lambda a, b: (lambda a, b: work(a, b)) if a == kind and b == kind else None

    for operation, name in ((operator.add, "fadd"), (operator.sub, "fsub"), (operator.mul, "fmul")):
        overload(operation)(both(instruction(name)))
    multiply = instruction("fmul")
    overload(operator.mul)(lambda a, b: (lambda a, b: multiply(spread(a), b)) if a != kind and b == kind else None)


_teach()
