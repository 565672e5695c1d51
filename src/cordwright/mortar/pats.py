"""What did the test pat say? It outranks every reckoning."""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Check, Cite, Problem, Step, table
from cordwright.mortar.inputs import MortarInput, Pat, PatResult

PRACTICE: Final = Cite("test-pat-practice", "seven days")
WORDS: Final[dict[PatResult, str]] = {
    "hard": "is hard",
    "crumbles": "crumbles",
    "crazed": "is crazed",
    "soft": "is soft",
}


def least_age() -> int:
    """Days after which a pat is judged."""
    return int(table("curing")["pat"]["least_days"])


def pats_in_hand(mortar: MortarInput) -> tuple[Pat, ...]:
    """The pats of the mix in hand, the one looked at last first; a pat without a mix's name is of the mix in hand."""
    mine = [p for p in mortar.pats if p.mix in ("", mortar.name)]
    return tuple(sorted(mine, key=lambda p: (p.looked_at, p.cast), reverse=True))


def deciding_pat(mortar: MortarInput) -> Pat | None:
    """The pat that speaks for the mix in hand: the one looked at last of those old enough, None when there is none."""
    return next((p for p in pats_in_hand(mortar) if p.age >= least_age()), None)


def pat_check(mortar: MortarInput) -> Check:
    """Hold the mix in hand against its test pat.

    A pat that crumbles, is soft or is crazed after seven days marks the mix short, whatever its proportions.

    Args:
        mortar: the mix with its pats.
    """
    pat, shown = deciding_pat(mortar), pats_in_hand(mortar)
    hard = pat is not None and pat.result == "hard"
    return Check(
        key="mortar.pat",
        label="hard test pats wanted of this mix"
        if pat is None
        else f"hard test pats wanted of this mix: {pat_words(pat)}",
        demand=1.0,
        capacity=1.0 if hard else 0.0,
        unit="",
        sources=(PRACTICE, Cite("owner", "mix.pats")),
        steps=tuple(_step(p) for p in shown),
        not_judged="" if pat else _why_not(shown),
    )


def _why_not(shown: tuple[Pat, ...]) -> str:
    if not shown:
        return "no test pat of this mix is recorded"
    return f"the pat is {shown[0].age} days old: look again at {least_age()} days"


def pat_words(pat: Pat) -> str:
    """What a pat says, in words."""
    broken = f", broken at {pat.strength / 1e6:.1f} MPa" if pat.strength is not None else ""
    nail = (
        f", a nail {pat.scratch}" if pat.scratch == "scratches" else f", a nail: {pat.scratch}" if pat.scratch else ""
    )
    return f"the pat {WORDS[pat.result]} at {pat.age} days{nail}{broken}"


def _step(pat: Pat) -> Step:
    return Step(
        symbol=f"pat cast {pat.cast.isoformat()}",
        value=float(pat.age),
        unit="d",
        formula=pat_words(pat) + (f"; {pat.note}" if pat.note else ""),
        source=Cite("owner", "mix.pats"),
    )


def judged_class(by_proportion: str, mortar: MortarInput) -> str:
    """Which class a mix lies near, under what its pat says: the pat outranks the proportions.

    Args:
        by_proportion: "near N by proportion, untested", or why it is not judged.
        mortar: the mix with its pats.
    """
    pat = deciding_pat(mortar)
    if pat is None:
        return by_proportion
    if pat.result != "hard":
        return f"short by its test pat: {pat_words(pat)}"
    return by_proportion.replace(", untested", "") + f"; {pat_words(pat)}, strength not known"


def pat_faults(mortar: MortarInput) -> Iterator[Problem]:
    """Name pats looked at before they were cast, and pats of a mix that has no name.

    Args:
        mortar: the mix with its pats.
    """
    for i, pat in enumerate(mortar.pats):
        if pat.age < 0:
            yield Problem(
                field=f"mix.pats[{i}].looked_at",
                message=f"looked at on {pat.looked_at.isoformat()}, {-pat.age} days before it was cast",
                hint="the day you looked comes after the day you cast",
            )
        if pat.mix and not mortar.name:
            yield Problem(
                field=f"mix.pats[{i}].mix",
                message=f"the pat is of the mix {pat.mix!r}, and the mix in hand has no name",
                hint=f'state name = "{pat.mix}" under [mix] if it is this mix; else the pat is kept and judges nothing',
                severity="warning",
            )
    last = deciding_pat(mortar)
    if last is not None and last.result != "hard":
        yield Problem(
            field="mix.pats",
            message=f"{pat_words(last)}: the pat outranks the proportions",
            hint="change sand, fibre or binder and cast another before you buy",
            severity="warning",
        )
