"""How does a tight numeric loop run fast where it can, and still run where it cannot?

Kernels are plain functions over NumPy arrays. Where numba stands they are compiled once and kept on disk; where it
does not stand (or NUMBA_DISABLE_JIT=1) the same text runs interpreted, slower, with the same result.
"""

from collections.abc import Callable
from typing import Any, Final, TypeVar, cast

Loop = TypeVar("Loop", bound=Callable[..., Any])

LENT: Final[dict[str, Any]] = {"_nrt": False}
"""Arrays are not counted: an option of numba that its stubs do not list."""


def kernel(loop: Loop) -> Loop:
    """Compile a numeric loop when numba is installed, else give it back as it stands."""
    try:
        from numba import njit
    except ImportError:
        return loop
    return cast(Loop, njit(cache=True)(loop))


def part(loop: Loop) -> Loop:
    """Compile a small part of a kernel into every kernel that calls it, so that its call costs nothing."""
    try:
        from numba import njit
    except ImportError:
        return loop
    return cast(Loop, njit(cache=True, forceinline=True, **LENT)(loop))


def lent_kernel(loop: Loop) -> Loop:
    """As `kernel`, for a loop that makes no array and keeps none: what is lent to it is not counted at every touch.

    Counting who holds an array costs as much as a day's work of a short loop. Whoever calls it holds what it lends.
    """
    try:
        from numba import njit
    except ImportError:
        return loop
    return cast(Loop, njit(cache=True, **LENT)(loop))


def fused_kernel(loop: Loop) -> Loop:
    """As `kernel`, but a product and a sum may be rounded once together: faster, and last digits may differ."""
    try:
        from numba import njit
    except ImportError:
        return loop
    return cast(Loop, njit(cache=True, fastmath={"contract"})(loop))
