"""What in the stated mix cannot be, and what is still missing?"""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Problem
from cordwright.mortar.inputs import MixPart, MortarInput
from cordwright.mortar.materials import FORMS, grain_density, water_density
from cordwright.mortar.pats import pat_faults
from cordwright.mortar.proportions import proportions
from cordwright.mortar.ranges import outside
from cordwright.mortar.retarders import retarder_faults
from cordwright.mortar.sand_faults import sand_faults
from cordwright.mortar.yields import loose_mix

BINDERS: Final = frozenset({"cement", "lime", "pre-blended"})

NUMBERS: Final = {
    "bulk_density": "kg/m3",
    "solid_density": "kg/m3",
    "bag": "kg",
    "moisture": "",
    "bulking": "",
    "cement_share": "",
    "solids_share": "",
}
"""What may be stated of a part, with its unit."""


def find_faults(mortar: MortarInput) -> tuple[Problem, ...]:
    """Name every fault of the stated mix.

    Args:
        mortar: the mix as read, in SI.

    Sources: ranges are assumptions (`mortar-limits`) but for the sand rule, ASTM C270 as remembered.
    """
    sands = sand_faults(mortar.sands)
    if not mortar.parts:
        return (*sands, *_whole_faults(mortar), _no_mix())
    parts = tuple(p for i, part in enumerate(mortar.parts) for p in _part_faults(f"mix.parts[{i}]", part))
    whole = (*_whole_faults(mortar), *_bucket_faults(mortar), *_missing_kinds(mortar), *pat_faults(mortar))
    whole = (*whole, *retarder_faults(mortar))
    faults = (*sands, *parts, *whole)
    if any(p.severity == "error" for p in faults):
        return faults
    return (*faults, *_sand_rule(mortar))


def _no_mix() -> Problem:
    return Problem(
        field="mix.parts",
        message="no mix is stated: the volume of mortar is known, its materials are not",
        hint="state [[mix.parts]] with name, kind, form and parts by volume",
        severity="warning",
    )


def _whole_faults(mortar: MortarInput) -> Iterator[Problem]:
    yield from outside("mix.waste", "waste", mortar.waste, "waste")
    yield from outside("mix.air", "air", mortar.air, "air")
    yield from outside("mix.pot_life", "the pot life", mortar.pot_life, "pot_life", unit="h")
    yield from outside("mix.container", "the container's volume", mortar.container, "bucket", unit="L", scale=1000)
    if mortar.container is not None and mortar.bucket is not None and mortar.container < mortar.bucket:
        yield Problem(
            field="mix.container",
            message=f"the tub holds {mortar.container * 1000:g} L, less than one bucket of {mortar.bucket * 1000:g} L",
            hint="state what the tub holds that the mortar is turned in",
        )
    yield from outside("mix.measured_yield", "the measured yield", mortar.measured_yield, "measured_yield")


def _bucket_faults(mortar: MortarInput) -> Iterator[Problem]:
    if mortar.bucket is None:
        yield Problem(
            field="mix.bucket",
            message="no bucket is stated: batches and water per batch stay unknown",
            hint='measure it, for example bucket = "12 L"',
            severity="warning",
        )
    yield from outside("mix.bucket", "the bucket's volume", mortar.bucket, "bucket", unit="L", scale=1000)


def _missing_kinds(mortar: MortarInput) -> Iterator[Problem]:
    kinds = {p.kind for p in mortar.parts}
    if "sand" not in kinds:
        yield Problem(field="mix.parts", message="the mix has no sand", hint='add a part with kind = "sand"')
    if not kinds & BINDERS:
        hint = "add a part with kind " + ", ".join(f'"{k}"' for k in sorted(BINDERS))
        yield Problem(field="mix.parts", message="the mix has no binder", hint=hint)


def _part_faults(field: str, part: MixPart) -> Iterator[Problem]:
    yield from outside(f"{field}.parts", f"the number of parts of {part.name}", part.parts, "parts")
    if part.form not in FORMS[part.kind]:
        yield _wrong_form(field, part)
        return
    yield from _needed(field, part)
    bad = tuple(_bad_numbers(field, part))
    yield from bad
    if not bad:
        yield from _impossible_density(field, part)


def _wrong_form(field: str, part: MixPart) -> Problem:
    forms = " or ".join(f'"{f}"' for f in FORMS[part.kind])
    hint = f"{part.kind} comes as {forms}"
    if part.form == "bag" and part.kind in ("cement", "lime"):
        hint += '; parts are buckets: state form = "powder" and the mass of a bag as bag = "25 kg"'
    return Problem(field=f"{field}.form", message=f"{part.kind} as {part.form!r}", hint=hint)


def _needed(field: str, part: MixPart) -> Iterator[Problem]:
    """Putty and blended bags differ so much that no table value will do: the owner weighs a bucket."""
    weigh = "fill a measured bucket, weigh it, and divide its mass by its volume"
    if part.form in ("putty", "bag") and part.bulk_density is None:
        message = f"the bulk density of {part.name} ({part.form}) is not stated"
        yield Problem(field=f"{field}.bulk_density", message=message, hint=weigh)
    if part.form == "putty" and part.solids_share is None:
        yield Problem(
            field=f"{field}.solids_share",
            message=f"how much of {part.name} is dry lime is not stated; putty is not powder",
            hint="dry lime over putty by mass, from the maker or by drying a weighed sample",
        )
    if part.form == "bag" and part.cement_share is None:
        message = f"how much of {part.name} is cement is not stated"
        yield Problem(field=f"{field}.cement_share", message=message, hint="by mass, from the bag; the rest is lime")


def _bad_numbers(field: str, part: MixPart) -> Iterator[Problem]:
    for name, unit in NUMBERS.items():
        what = f"{name.replace('_', ' ')} of {part.name}"
        yield from outside(f"{field}.{name}", what, getattr(part, name), name, unit=unit)


PUTTY_READING: Final = 0.05
"""A bucket on a scale and the maker's share of solids agree no better than this (assumption, `mortar-limits`) [1]."""


def _impossible_density(field: str, part: MixPart) -> Iterator[Problem]:
    """Loose material cannot weigh more than its own grains, putty not more than its lime and water without air."""
    if part.bulk_density is None or (part.form == "putty" and part.solids_share is None):
        return
    most = _solid(part)
    what, free = ("its grains", 0.0) if part.form != "putty" else ("its lime and water without air", PUTTY_READING)
    if part.bulk_density > most * (1 + free):
        yield Problem(
            field=f"{field}.bulk_density",
            message=f"{part.name} weighs {part.bulk_density:.0f} kg/m3, {what} {most:.0f} kg/m3",
            hint="nothing loose weighs more than what it is made of: weigh a measured bucket again",
        )


def _solid(part: MixPart) -> float:
    """Density of a material with no air in it [kg/m3]."""
    if part.form != "putty":
        return grain_density(part, "cement" if part.kind == "pre-blended" else part.kind)
    assert part.solids_share is not None
    return 1.0 / (part.solids_share / grain_density(part, "lime") + (1.0 - part.solids_share) / water_density())


def _sand_rule(mortar: MortarInput) -> Iterator[Problem]:
    """The sand rule speaks of cement, lime and sand alone; a mix with fibre is not judged by it."""
    shares = proportions(loose_mix(mortar).materials)
    if shares.fibre or shares.sand_in_range:
        return
    yield Problem(
        field="mix.parts",
        message=f"damp sand is {shares.sand / shares.binder:.2f} times the cement and lime by volume",
        hint="the usual range is 2 1/4 to 3 times; lay and break a test pat before buying",
        severity="warning",
    )
