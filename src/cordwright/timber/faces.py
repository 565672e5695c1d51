"""How much wall face does the stock close, before and after culls, and what is short?"""

import math
from dataclasses import dataclass
from typing import Final

from cordwright.base import Check, Cite, Figure, InputError, Step
from cordwright.timber.inputs import TimberInput
from cordwright.timber.lots import Lot, count_of, lot_sources, wood_sources

LAYING: Final = "the moisture at laying (stock.laying_moisture)"
NO_STOCK: Final = "the stock (stems or a pile)"
"""What an unknown figure asks for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """The face of wood the wall wants: net area [m2] and planned wood fraction [1].

    Raises:
        InputError: no area, or fractions that are not in order.
    """

    net_area: float
    fraction: float
    low: float
    high: float

    def __post_init__(self) -> None:
        if not (self.net_area > 0 and 0 < self.low <= self.fraction <= self.high):
            raise InputError("the wall has no net area, or its wood fractions are not positive and in order")

    @property
    def areas(self) -> tuple[float, float, float]:
        """Low, middle and high of the face wanted [m2]."""
        return self.net_area * self.low, self.net_area * self.fraction, self.net_area * self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What the stock gives before culls: log ends, their face as measured and (low, middle, high) at laying [m2].

    `missing` says what must be stated to know the latter. `kept` is the share left after culls, all where none is
    stated; `from_stems` tells that the length of the log ends can still be chosen.
    """

    count: float
    measured: float
    face: tuple[float, float, float] | None
    missing: tuple[str, ...]
    kept: float
    culls_stated: bool
    from_stems: bool
    sources: tuple[Cite, ...]


def supply_of(timber: TimberInput, lots: tuple[Lot, ...]) -> Supply:
    """Add up the face of the log ends at laying.

    Args:
        timber: the stock as stated.
        lots: the same, cut.
    """
    missing = missing_at_laying(timber, lots)
    shrinking = (Cite("wood-handbook-2010", "shrinkage at a moisture content"), Cite("fibre-saturation"))
    return Supply(
        count=count_of(lots)[1],
        measured=sum(lot.face for lot in lots),
        face=None if missing else _face(lots),
        missing=missing,
        kept=1.0 - (timber.cull_share or 0.0),
        culls_stated=timber.cull_share is not None,
        from_stems=all(lot.counted for lot in lots),
        sources=(*lot_sources(lots), *wood_sources(lots), *shrinking),
    )


def missing_at_laying(timber: TimberInput, lots: tuple[Lot, ...]) -> tuple[str, ...]:
    """Name what must be stated before the sizes at laying are known; nothing when they are.

    Args:
        timber: the stock as stated.
        lots: the same, cut.
    """
    if not lots:
        return (NO_STOCK,)
    if timber.laying_moisture is None:
        return (LAYING,)
    unknown = (lot.wood.label for lot in lots if lot.count and lot.laying is None)
    return tuple(dict.fromkeys(f"the shrinkage of {label}" for label in unknown))


def _face(lots: tuple[Lot, ...]) -> tuple[float, float, float]:
    faces = [(lot.face * (lot.laying or 0.0) ** 2, lot) for lot in lots]  # 0.0: a lot without log ends
    return (
        sum(face * lot.least for face, lot in faces),
        sum(face for face, _ in faces),
        sum(face * lot.most for face, lot in faces),
    )


def face_figure(timber: TimberInput, supply: Supply) -> Figure:
    """Give the mid-length face of all log ends at the laying moisture, before culls.

    Args:
        timber: the stock as stated.
        supply: its face.

    Sources: closed form; shrinkage by the Wood Handbook, even taper and tape error are assumptions.
    """
    low, middle, high = supply.face or (None, None, None)
    return Figure(
        key="timber.face_area",
        label="face of all log ends at mid-length, at laying, before culls",
        value=middle,
        low=low,
        high=high,
        unit="m2",
        bound="unknown" if middle is None else "exact",
        missing=supply.missing,
        sources=supply.sources,
        steps=_face_steps(timber, supply),
    )


def _face_steps(timber: TimberInput, supply: Supply) -> tuple[Step, ...]:
    if supply.face is None:
        return ()
    return (
        Step(
            symbol="face as measured",
            value=supply.measured,
            unit="m2",
            formula="sum of pi / 4 x mid-length diameter squared, bark off; of a stack, solid volume / log-end length",
            source=Cite("even-taper"),
        ),
        Step(
            symbol="moisture at laying",
            value=timber.laying_moisture,
            unit="1",
            formula="typed",
            source=Cite("owner", "stock.laying_moisture"),
        ),
        Step(
            symbol="face left by shrinkage",
            value=supply.face[1] / supply.measured if supply.measured else 1.0,
            unit="1",
            formula="(1 - shrinkage x moisture lost below fibre saturation / fibre saturation) squared",
            source=Cite("wood-handbook-2010", "shrinkage at a moisture content"),
        ),
    )


def coverage_figure(supply: Supply, need: Need) -> Figure:
    """Give the share of the wood face wanted that the stock closes.

    The value counts every log end at the planned wood fraction; the low one is after culls, at the high fraction and
    the least sizes, the high one without culls, at the low fraction and the largest sizes.

    Args:
        supply: the face the stock gives.
        need: the face the wall wants.
    """
    low = middle = high = None
    if supply.face:
        few, _, many = need.areas
        low, middle, high = (
            supply.face[0] * supply.kept / many,
            supply.face[1] / need.areas[1],
            supply.face[2] / few,
        )
    return Figure(
        key="timber.coverage",
        label="share of the planned wood face that the stock closes, before culls (low: after culls)",
        value=middle,
        low=low,
        high=high,
        unit="1",
        bound="unknown" if middle is None else "exact",
        missing=supply.missing,
        sources=(Cite("owner", "wall.wood_fraction"), *supply.sources),
        steps=_need_steps(supply, need) if supply.face else (),
    )


def _need_steps(supply: Supply, need: Need) -> tuple[Step, ...]:
    assert supply.face is not None
    return (
        Step(symbol="net wall area", value=need.net_area, unit="m2", formula="gross less openings"),
        Step(
            symbol="planned wood fraction",
            value=need.fraction,
            unit="1",
            formula="typed",
            source=Cite("owner", "wall.wood_fraction"),
        ),
        Step(symbol="wood face wanted", value=need.areas[1], unit="m2", formula="net wall area x wood fraction"),
        Step(symbol="face before culls", value=supply.face[1], unit="m2", formula="all log ends at laying"),
        _kept_step(supply),
    )


def _kept_step(supply: Supply) -> Step:
    word = "1 - cull share" if supply.culls_stated else "no cull share is stated: the face that stays may be less"
    source = Cite("owner", "stock.cull_share") if supply.culls_stated else None
    return Step(symbol="share kept after culls", value=supply.kept, unit="1", formula=word, source=source)


def coverage_check(supply: Supply, need: Need) -> Check:
    """Hold the wood face wanted against the face that stays after the expected culls.

    Args:
        supply: the face the stock gives.
        need: the face the wall wants.
    """
    low, middle, high = need.areas
    return Check(
        key="timber.coverage_check",
        label="log-end face after culls against the wood face wanted",
        demand=middle,
        low=low,
        high=high,
        capacity=supply.face[1] * supply.kept if supply.face else None,
        unit="m2",
        sources=(Cite("owner", "wall.wood_fraction"), *supply.sources),
        steps=_need_steps(supply, need) if supply.face else (),
        not_judged="" if supply.face else f"not known: {', '.join(supply.missing)}",
    )


def shortfall_figures(supply: Supply, need: Need, log_end_length: float) -> tuple[Figure, Figure]:
    """Give the face and the log ends that are short after culls, zero when none are, with what can be done instead.

    Args:
        supply: the face the stock gives.
        need: the face the wall wants.
        log_end_length: the wall's [m].
    """
    areas = _shortfall(supply, need)
    counts = tuple(_log_ends_for(area, supply) for area in areas) if supply.count else ()
    steps = (*_need_steps(supply, need), *_choices(supply, need, log_end_length, areas[1])) if areas else ()
    face, ends = "wood face that is short, after culls", "log ends of the mean size still to cut"
    return (
        _short("timber.shortfall_area", face, areas, supply, unit="m2", steps=steps),
        _short("timber.shortfall_log_ends", ends, counts, supply, unit="", steps=steps),
    )


def _shortfall(supply: Supply, need: Need) -> tuple[float, ...]:
    """Low, middle and high of the face that is short [m2]; nothing when it is unknown."""
    if supply.face is None:
        return ()
    return tuple(max(0.0, a - f * supply.kept) for a, f in zip(need.areas, reversed(supply.face), strict=True))


def _log_ends_for(area: float, supply: Supply) -> float:
    """Log ends of the mean size, culls among them, that give a face."""
    assert supply.face is not None
    return float(math.ceil(area * supply.count / (supply.face[1] * supply.kept) - 1e-9))


def _short(
    key: str, label: str, spread: tuple[float, ...], supply: Supply, *, unit: str, steps: tuple[Step, ...]
) -> Figure:
    low, middle, high = spread if spread else (None, None, None)
    return Figure(
        key=key,
        label=label,
        value=middle,
        low=low,
        high=high,
        unit=unit,
        bound="unknown" if middle is None else "exact",
        missing=() if spread else supply.missing or ("log ends whose mean size is known",),
        sources=(Cite("owner", "wall.wood_fraction"), *supply.sources),
        steps=steps if spread else (),
    )


def _choices(supply: Supply, need: Need, length: float, short: float) -> tuple[Step, ...]:
    """What can be done about a short stock, each alone; log ends are never drawn larger than they are."""
    if short <= 0:
        return ()
    assert supply.face is not None
    face = supply.face[1] * supply.kept
    ways = [
        ("choice: lower wood fraction", face / need.net_area, "1", "larger joints: more mortar and more cost"),
        (
            "choice: smaller net wall",
            face / need.fraction,
            "m2",
            "a lower or shorter wall at the planned wood fraction",
        ),
        ("choice: bottle ends or stones", short, "m2", "face that they must fill in place of wood"),
    ]
    if supply.count:
        ways.insert(
            0, ("choice: more log ends", _log_ends_for(short, supply), "", "of the mean size, culls among them")
        )
    if supply.from_stems:
        thinner = "about: a thinner wall that loses more heat"
        ways.append(("choice: shorter log ends", length * face / need.areas[1], "m", thinner))
    return tuple(Step(symbol=word, value=value, unit=unit, formula=what) for word, value, unit, what in ways)
