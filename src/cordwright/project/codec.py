"""How is the result of a study kept between two runs, so that it comes back exactly as it was?

As plain lists, numbers and words, by the fields of its own values; what does not fit them is refused, never guessed.
An array is kept as its shape and its numbers, a day as the word of its date.
"""

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from math import prod
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

import numpy as np

from cordwright.base import DataError

Kept = TypeVar("Kept")


def encode(value: Any) -> Any:
    """Give plain dataclasses, tuples, mappings, days and arrays as lists, mappings with word keys, numbers and words.

    Raises:
        DataError: something in it is none of these.
    """
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if type(value) is date:
        return value.isoformat()
    if isinstance(value, np.ndarray) and value.dtype == np.float64:
        return {"shape": list(value.shape), "numbers": value.ravel().tolist()}
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: encode(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, tuple | list):
        return [encode(item) for item in value]
    if isinstance(value, Mapping) and all(isinstance(key, str) for key in value):
        return {key: encode(item) for key, item in value.items()}
    raise DataError(f"{type(value).__name__} cannot be kept")


def decode(kind: type[Kept], plain: object) -> Kept:
    """Give back what `encode` made plain.

    Args:
        kind: the dataclass it was.
        plain: lists, mappings, numbers and words.

    Raises:
        DataError: it is not what that dataclass encodes to.
    """
    made: Kept = _decode(kind, plain)
    return made


def _decode(kind: Any, plain: Any) -> Any:
    if is_dataclass(kind):
        return _dataclass(kind, plain)
    origin, args = get_origin(kind), get_args(kind)
    if origin is Literal:
        return _fits(plain, plain in args, kind)
    if origin in (Union, types.UnionType):
        return _union(args, plain)
    if origin is tuple:
        return _tuple(args, plain)
    if isinstance(origin, type) and issubclass(origin, Mapping):
        _fits(plain, isinstance(plain, dict), kind)
        return {key: _decode(args[1], item) for key, item in plain.items()}
    return _scalar(kind, plain)


def _fits(plain: Any, right: bool, kind: Any) -> Any:
    if not right:
        raise DataError(f"what is kept is no {kind}")
    return plain


def _array(plain: Any) -> Any:
    _fits(plain, isinstance(plain, dict) and set(plain) == {"shape", "numbers"}, np.ndarray)
    shape, numbers = _decode(tuple[int, ...], plain["shape"]), _decode(tuple[float, ...], plain["numbers"])
    _fits(plain, min(shape, default=0) >= 0 and len(numbers) == prod(shape), np.ndarray)
    return np.array(numbers, np.float64).reshape(shape)


def _day(plain: Any) -> date:
    try:
        return date.fromisoformat(_fits(plain, isinstance(plain, str), date))
    except ValueError as fault:
        raise DataError(f"what is kept is no day: {fault}") from None


def _scalar(kind: Any, plain: Any) -> Any:
    if kind is date:
        return _day(plain)
    if get_origin(kind) is np.ndarray:
        return _array(plain)
    if kind is float:
        return _fits(plain, isinstance(plain, int | float) and not isinstance(plain, bool), kind)
    return _fits(plain, kind in (int, str, bool) and type(plain) is kind, kind)


def _dataclass(kind: Any, plain: Any) -> Any:
    hints = _hints(kind)
    _fits(plain, isinstance(plain, dict) and set(plain) == set(hints), kind)
    return kind(**{name: _decode(hint, plain[name]) for name, hint in hints.items()})


@cache
def _hints(kind: Any) -> dict[str, Any]:
    hints = get_type_hints(kind)
    return {f.name: hints[f.name] for f in fields(kind)}


def _tuple(args: tuple[Any, ...], plain: Any) -> tuple[Any, ...]:
    _fits(plain, isinstance(plain, list), tuple)
    if len(args) == 2 and args[1] is Ellipsis:
        return tuple(_decode(args[0], item) for item in plain)
    _fits(plain, len(plain) == len(args), tuple)
    return tuple(_decode(kind, item) for kind, item in zip(args, plain, strict=True))


def _union(args: tuple[Any, ...], plain: Any) -> Any:
    if plain is None:
        return _fits(plain, type(None) in args, args)
    for kind in args:
        if kind is type(None):
            continue
        try:
            return _decode(kind, plain)
        except DataError:
            continue
    raise DataError(f"what is kept is none of {args}")
