"""How many log ends does the stock give, of what size and volume, and what gap will they leave?"""

import math
from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, Figure, Step
from cordwright.timber.bucking import bark_factor, diameter_at
from cordwright.timber.faces import NO_STOCK, missing_at_laying
from cordwright.timber.inputs import TimberInput
from cordwright.timber.lots import Lot, count_of, lot_sources, wood_sources
from cordwright.timber.results import StemCut
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_gap
from cordwright.timber.volumes import cone_frustum, huber, neiloid, newton, smalian

CUTTING: Final = Cite("stick-cutting", "n = floor((length + kerf) / (piece + kerf))")
PLAN: Final = Cite("butt-justified-cuts")
FIT: Final = Cite("bucking-fit")
SHRINKING: Final = Cite("wood-handbook-2010", "shrinkage at a moisture content")


def stock_figures(
    timber: TimberInput, lots: tuple[Lot, ...], cuts: tuple[StemCut, ...], log_end_length: float
) -> Iterator[Figure]:
    """Give counts, volumes, the mean size and the gap.

    Args:
        timber: the stock as stated.
        lots: the same, cut.
        cuts: its stems.
        log_end_length: the wall's [m].
    """
    yield _log_ends(timber, lots, log_end_length)
    yield _usable(timber, lots)
    yield _solid_volume(lots)
    if cuts:
        yield _stem_volume(timber, cuts)
    yield _mean_diameter(timber, lots)
    yield _gap(timber, lots)


def _unknown(key: str, label: str, unit: str, missing: tuple[str, ...], sources: tuple[Cite, ...]) -> Figure:
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)


def _ends(low: float, high: float) -> tuple[float | None, float | None]:
    """A spread as a figure carries it: none where there is none."""
    return (None, None) if low == high else (low, high)


def _log_ends(timber: TimberInput, lots: tuple[Lot, ...], length: float) -> Figure:
    key, label = "timber.log_ends", "whole log ends the stock gives, before culls"
    if not lots:
        return _unknown(key, label, "", (NO_STOCK,), (CUTTING, PLAN))
    least, middle, most = count_of(lots)
    low, high = _ends(least, most)
    sources = (CUTTING, PLAN, FIT, *lot_sources(lots))
    steps = tuple(_count_steps(timber, lots, length))
    return Figure(key=key, label=label, value=middle, low=low, high=high, unit="", sources=sources, steps=steps)


def _count_steps(timber: TimberInput, lots: tuple[Lot, ...], length: float) -> Iterator[Step]:
    yield Step(symbol="log-end length", value=length, unit="m", formula="typed", source=Cite("owner", "wall"))
    if timber.stems:
        yield Step(symbol="kerf", value=timber.kerf, unit="m", formula="typed", source=Cite("owner", "stock.kerf"))
        yield Step(
            symbol="trim at each end",
            value=timber.end_trim,
            unit="m",
            formula="typed",
            source=Cite("owner", "stock.end_trim"),
        )
        yield Step(
            symbol="from stems",
            value=float(sum(lot.count for lot in lots if lot.counted)),
            unit="",
            formula="sum over stems of the log ends between trims and defects, kerf between two",
            source=CUTTING,
        )
    for lot in (lot for lot in lots if not lot.counted):
        yield Step(
            symbol=f"from {lot.name}",
            value=float(lot.count),
            unit="",
            formula="stacked volume x solid factor / (mean face of the sample x log-end length), rounded",
            source=Cite("owner", "stock.piles"),
        )


def _usable(timber: TimberInput, lots: tuple[Lot, ...]) -> Figure:
    key, label = "timber.usable_log_ends", "log ends left after expected culls and spares"
    shares = {"cull_share": timber.cull_share, "spare_share": timber.spare_share}
    sources = tuple(Cite("owner", name) for name, share in shares.items() if share is not None) or (CUTTING,)
    if not lots:
        return _unknown(key, label, "", (NO_STOCK,), sources)
    missing = tuple(f"the {name.replace('_', ' ')} (stock.{name})" for name, share in shares.items() if share is None)
    kept = 1 - sum(share or 0.0 for share in shares.values())
    least, middle, most = (float(math.floor(n * kept + 1e-9)) for n in count_of(lots))
    low, high = _ends(least, most)
    step = Step(symbol="share left", value=kept, unit="1", formula="1 - cull share - spare share", source=sources[0])
    return Figure(
        key=key,
        label=label,
        value=middle,
        low=low,
        high=high,
        unit="",
        bound="at_most" if missing else "exact",
        missing=missing,
        sources=sources,
        steps=(step, Step(symbol="before", value=count_of(lots)[1], unit="", formula="all log ends")),
    )


def _solid_volume(lots: tuple[Lot, ...]) -> Figure:
    key, label = "timber.solid_volume", "wood in all log ends, bark off, as measured"
    sources = (*lot_sources(lots), Cite("missouri-log-volume", "cone"))
    if not lots:
        return _unknown(key, label, "m3", (NO_STOCK,), sources)
    solids = [lot.solid for lot in lots]
    low, high = _ends(
        sum(s * lot.least for s, lot in zip(solids, lots, strict=True)),
        sum(s * lot.most for s, lot in zip(solids, lots, strict=True)),
    )
    kinds = (("from stems", True, "sum of cone frustums"), ("from piles", False, "stacked volume x solid factor"))
    steps = tuple(
        Step(symbol=word, value=sum(lot.solid for lot in lots if lot.counted is counted), unit="m3", formula=how)
        for word, counted, how in kinds
        if any(lot.counted is counted for lot in lots)
    )
    return Figure(key=key, label=label, value=sum(solids), low=low, high=high, unit="m3", sources=sources, steps=steps)


def _stem_volume(timber: TimberInput, cuts: tuple[StemCut, ...]) -> Figure:
    """Whole stems, bark off: cone frustums, spread by the rules that read other shapes into the same end diameters."""
    volumes = _volumes_by_rule(timber, cuts)
    source = Cite("missouri-log-volume", "cone, Smalian, neiloid")
    return Figure(
        key="timber.stem_volume",
        label="wood in the whole stems, bark off",
        value=volumes["cone frustum"],
        low=min(volumes.values()),
        high=max(volumes.values()),
        unit="m3",
        sources=(source, Cite("even-taper")),
        steps=tuple(
            Step(symbol=f"by {rule}", value=volume, unit="m3", formula="sum over the stems", source=source)
            for rule, volume in volumes.items()
        ),
    )


def _volumes_by_rule(timber: TimberInput, cuts: tuple[StemCut, ...]) -> dict[str, float]:
    stems = [cut.stem for cut in cuts]
    peel = np.array([bark_factor(timber) if stem.bark else 1.0 for stem in stems])
    butt, top, length = (
        np.array([getattr(stem, name) for stem in stems], dtype=np.float64)
        for name in ("butt_diameter", "top_diameter", "length")
    )
    middle = np.array([diameter_at(stem, stem.length / 2) for stem in stems])
    rules: dict[str, NDArray[np.float64]] = {
        "cone frustum": cone_frustum(butt, top, length),
        "Smalian": smalian(butt, top, length),
        "Huber": huber(middle, length),
        "Newton": newton(butt, middle, top, length),
        "neiloid": neiloid(butt, top, length),
    }
    alike = np.array([stem.count for stem in stems]) * peel**2
    return {rule: float((volume * alike).sum()) for rule, volume in rules.items()}


def _mean_diameter(timber: TimberInput, lots: tuple[Lot, ...]) -> Figure:
    split = any(lot.shape != "round" for lot in lots)
    parents = " (of halves and quarters: of the rounds they were cleft from)" if split else ""
    key, label = "timber.mean_diameter", f"mean diameter of the log ends at laying{parents}"
    sources = (*lot_sources(lots), *wood_sources(lots), SHRINKING)
    count = count_of(lots)[1]
    missing = missing_at_laying(timber, lots) or (() if count else ("stems that give a log end",))
    if missing:
        return _unknown(key, label, "m", missing, sources)
    measured = sum(float(lot.diameter.sum()) for lot in lots) / count
    value = sum(float(lot.diameter.sum()) * (lot.laying or 0.0) for lot in lots) / count
    steps = (
        Step(symbol="mean as measured", value=measured, unit="m", formula="sum of mid-length diameters / log ends"),
        Step(symbol="left by shrinkage", value=value / measured, unit="1", formula="at laying", source=SHRINKING),
    )
    return Figure(key=key, label=label, value=value, unit="m", sources=sources, steps=steps)


def _gap(timber: TimberInput, lots: tuple[Lot, ...]) -> Figure:
    key, label = "timber.shrinkage_gap", "gap all round the mean log end once it has dried to its service moisture"
    sources = (SHRINKING, Cite("fibre-saturation"), *wood_sources(lots))
    missing = _missing_for_gap(timber, lots)
    if missing:
        return _unknown(key, label, "m", missing, sources)
    mean = _mean_gap(timber, lots, "shrinkage")
    radial = None if any(lot.wood.radial is None for lot in lots) else _mean_gap(timber, lots, "radial")
    low, high = (None, None) if radial is None else sorted((radial, mean))
    return Figure(
        key=key,
        label=label,
        value=mean,
        low=low,
        high=high,
        unit="m",
        sources=sources,
        steps=_gap_steps(timber, radial),
    )


def _missing_for_gap(timber: TimberInput, lots: tuple[Lot, ...]) -> tuple[str, ...]:
    if not any(lot.count for lot in lots):
        return (NO_STOCK,)
    stated = {
        "the moisture at laying (stock.laying_moisture)": timber.laying_moisture,
        "the moisture in service (stock.service_moisture)": timber.service_moisture,
    }
    woods = {f"the shrinkage of {lot.wood.label}": lot.wood.shrinkage for lot in lots if lot.count}
    return tuple(what for what, value in {**stated, **woods}.items() if value is None)


def _mean_gap(timber: TimberInput, lots: tuple[Lot, ...], direction: str) -> float:
    """Mean over the log ends of the gap by one shrinkage [m]: that of the diameter's mean where there is one wood."""
    before, after, saturation = timber.laying_moisture, timber.service_moisture, fibre_saturation(timber)
    assert before is not None
    assert after is not None
    gaps = (
        shrinkage_gap(
            float(lot.diameter.sum()) * (lot.green or 0.0),
            getattr(lot.wood, direction) or 0.0,
            before,
            after,
            saturation,
        )
        for lot in lots
    )
    return sum(gaps) / count_of(lots)[1]


def _gap_steps(timber: TimberInput, radial: float | None) -> tuple[Step, ...]:
    formula = "green diameter x shrinkage x (moisture lost below fibre saturation) / fibre saturation / 2"
    laying, service = Cite("owner", "stock.laying_moisture"), Cite("owner", "stock.service_moisture")
    steps = (
        Step(symbol="moisture at laying", value=timber.laying_moisture, unit="1", formula="typed", source=laying),
        Step(symbol="moisture in service", value=timber.service_moisture, unit="1", formula=formula, source=service),
    )
    if radial is None:
        return steps
    word = "radial shrinkage only, where the main check takes up the rest"
    return (*steps, Step(symbol="gap by radial shrinkage", value=radial, unit="m", formula=word, source=SHRINKING))
