"""Will something in the fibre keep the cement from setting?"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from cordwright.base import Cite, Problem, cite, table
from cordwright.mortar.inputs import MixPart, MortarInput

Grade = Literal["strong", "some", "little", "unknown"]
NO_WOOD: Final = ("other",)
"""Fibres that hold no sugars of wood."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Retarder:
    """What in one part of the mix delays the set: the part's name, how much, in words, and who says so."""

    part: str
    grade: Grade
    words: str
    sources: tuple[Cite, ...]


def retarders(mortar: MortarInput) -> tuple[Retarder, ...]:
    """What delays the set in the mix, part by part; wood of no known kind counts as unknown, never as harmless.

    Args:
        mortar: the mix as stated.

    Sources: `moslemi-wood-cement`, `wood-extracts-set`, `ataie-2019`, `sugar-set`; no dose and no time is given.
    """
    return tuple(_retarder(part, row) for part in mortar.parts if part.kind == "fibre" for row in _rows(part))


def _rows(part: MixPart) -> Iterator[str]:
    if part.borate:
        yield "borate"
    if part.material in NO_WOOD or part.material == "cellulose":
        return
    wood = part.wood.lower()
    rows = table("retarders")
    yield next((key for key, row in rows.items() if any(word in wood for word in row["match"])), "unknown")


def _retarder(part: MixPart, key: str) -> Retarder:
    row = table("retarders")[key]
    return Retarder(
        part=part.name, grade=row["grade"], words=row["words"], sources=tuple(cite(s) for s in row["sources"])
    )


def retarder_faults(mortar: MortarInput) -> Iterator[Problem]:
    """Warn of a fibre that is known to hinder the set, until a test pat of this mix has gone hard.

    Args:
        mortar: the mix as stated.
    """
    proved = any(p.result == "hard" and p.mix in ("", mortar.name) for p in mortar.pats)
    for i, part in enumerate(mortar.parts):
        if part.kind != "fibre":
            yield from _no_fibre(i, part)
            continue
        for row in _rows(part):
            if table("retarders")[row]["grade"] in ("strong", "some") and not proved:
                yield Problem(
                    field=f"mix.parts[{i}].{'borate' if row == 'borate' else 'wood'}",
                    message=f"{part.name} {table('retarders')[row]['words']}",
                    hint="cast a test pat with this very fibre, look at it for a week and note it under [[mix.pats]]",
                    severity="warning",
                )


def _no_fibre(i: int, part: MixPart) -> Iterator[Problem]:
    for key in ("material", "wood", "borate"):
        if getattr(part, key):
            yield Problem(
                field=f"mix.parts[{i}].{key}", message=f"{part.name} is no fibre", hint=f"{key} belongs to soaked fibre"
            )
