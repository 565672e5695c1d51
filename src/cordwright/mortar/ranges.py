"""Is a stated value one that a builder can have meant?"""

from collections.abc import Iterator

from cordwright.base import Problem, table


def stated_range(name: str) -> tuple[float, float]:
    """Least and most of a stated value that is taken for what the owner meant, in the value's own SI unit.

    Sources: assumption (`mortar-limits`).
    """
    least, most = table("materials")["ranges"][name]
    return float(least), float(most)


def outside(
    field: str, what: str, value: float | None, name: str, *, unit: str = "", scale: float = 1.0, hint: str = ""
) -> Iterator[Problem]:
    """Refuse a stated value outside its range; a blank is unknown, not wrong.

    Args:
        field: key path in the owner's file.
        what: the value in words, for the message.
        value: in SI, None when blank.
        name: of the range.
        unit: in which the message speaks.
        scale: that unit's count in one SI unit [1].
        hint: what to do, in place of the range.
    """
    least, most = stated_range(name)
    if value is not None and not least <= value <= most:
        yield Problem(
            field=field,
            message=f"{what} is {value * scale:g} {unit}".rstrip(),
            hint=hint or f"between {least * scale:g} and {most * scale:g} {unit}".rstrip(),
        )
