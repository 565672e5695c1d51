"""Which numbers of a sand may the owner read, and where do they come from?"""

from collections.abc import Iterator
from typing import Any, Final

from cordwright.base import Check, Cite, Figure, Step
from cordwright.mortar.en_13139 import FINES
from cordwright.mortar.en_13139 import SOURCE as EN_SOURCE
from cordwright.mortar.grading import (
    ASTM_SERIES,
    EN_SERIES,
    INTERPOLATION,
    LOSS_NOTED,
    Grading,
    curvature,
    fineness_modulus,
    interpolated,
    loss,
    uniformity,
)
from cordwright.mortar.grading_bands import Judgement
from cordwright.mortar.grain_statistics import curve_moments, graphic_measures, specific_surface
from cordwright.mortar.materials import table_grain_density
from cordwright.mortar.packing import fines_by_jar, voids_from_densities
from cordwright.mortar.placing import (
    BUCKET_READING,
    BULKING_RANGE,
    BULKING_SOURCE,
    READING_SOURCE,
    WATER_SOURCE,
    bulking_by_fineness,
    screened_share,
    water_demand,
)
from cordwright.mortar.sand_inputs import SandInput

OWN: Final = Cite("owner", "sands")
SERIES_SOURCE: Final = Cite("crd-c-104", "para 4")
MOST_SILT: Final = 0.05
"""Silt beyond which a jar test is flagged (`jar-test-practice`) [1]."""


def sand_figures(sand: SandInput, curve: Grading | None, judgements: tuple[Judgement, ...]) -> tuple[Figure, ...]:
    """All figures of one sand; what was not measured is left out."""
    found = [*_measured(sand)]
    if curve is not None:
        found += [*_moduli(sand, curve), *_shapes(sand, curve), *_statistics(sand, curve), *_off(sand, judgements)]
        found += [*_fines(sand, curve), *_placing(sand, curve), *_screened(sand, curve)]
    return tuple(found)


def _figure(sand: SandInput, name: str, label: str, value: float | None, unit: str = "1", **more: Any) -> Figure:
    source = more.get("sources", (OWN,))[-1]
    step = Step(symbol=name.replace("_", " "), value=value, unit=unit, formula=label, source=source)
    return Figure(
        key=f"sand.{sand.slug}.{name}",
        label=f"{label}, {sand.name}",
        value=value,
        unit=unit,
        missing=() if value is not None else ("a sieve that reaches there",),
        **{"sources": (OWN,), "steps": (step,), "bound": "exact" if value is not None else "unknown", **more},
    )


def _moduli(sand: SandInput, curve: Grading) -> Iterator[Figure]:
    named = (("fineness_modulus", "ASTM", ASTM_SERIES), ("fineness_modulus_en", "EN", EN_SERIES))
    for name, words, series in named:
        span = fineness_modulus(curve, series)
        marked = ", interpolated" if interpolated(curve, series) else ""
        label = f"fineness modulus on the {words} sieves{marked}"
        steps = tuple(_retained_steps(curve, series))
        if span is None:
            yield _figure(sand, name, label, None, steps=steps)
            continue
        low, high = span
        spread: dict[str, Any] = {"low": low, "high": high} if high > low else {}
        sources = (OWN, SERIES_SOURCE, *((INTERPOLATION,) if marked else ()))
        yield _figure(sand, name, label, (low + high) / 2, steps=steps, sources=sources, **spread)


def _retained_steps(curve: Grading, series: tuple[float, ...]) -> Iterator[Step]:
    for size in series:
        has = curve.at(size)
        formula = "1 - passing" if size in curve.openings else "1 - passing, by the logarithm of the size"
        yield Step(
            symbol=f"retained on {size * 1000:g} mm",
            value=None if has is None else 1 - has,
            unit="1",
            formula=formula if has is not None else "not reached by the sieves used",
            source=OWN if size in curve.openings else INTERPOLATION,
        )


def _shapes(sand: SandInput, curve: Grading) -> Iterator[Figure]:
    for share in (10, 16, 30, 50, 60):
        label = f"size that {share} % of it is finer than, by the logarithm of the size"
        yield _figure(sand, f"d{share}", label, curve.size(share / 100), "m", sources=(OWN, INTERPOLATION))
    both = (OWN, INTERPOLATION)
    yield _figure(sand, "uniformity", "coefficient of uniformity D60 / D10", uniformity(curve), sources=both)
    yield _figure(sand, "curvature", "coefficient of curvature D30² / (D10 D60)", curvature(curve), sources=both)


def _statistics(sand: SandInput, curve: Grading) -> Iterator[Figure]:
    graphic = graphic_measures(curve)
    cem = (OWN, Cite("cem-sediment", "graphic measures"))
    words = ("size class", "sorting", "skewness", "kurtosis") if graphic is None else graphic.words
    for i, name in enumerate(("mean", "sorting", "skewness", "kurtosis")):
        value = None if graphic is None else getattr(graphic, name)
        unit = ", in phi" if name in ("mean", "sorting") else ""
        yield _figure(sand, f"graphic_{name}", f"graphic {name}{unit} ({words[i]})", value, sources=cem)
    found = curve_moments(curve)
    if found is not None:
        moment, left_out = found
        label = "by moments over the whole mass between the sieves"
        closed = Cite("grain-moments")
        steps = (Step(symbol="left out", value=left_out, unit="1", formula="share beyond the sieves", source=closed),)
        more: dict[str, Any] = {"sources": (OWN, closed), "steps": steps}
        yield _figure(sand, "moment_mean", f"mean in phi {label}", moment.mean, **more)
        yield _figure(sand, "moment_deviation", f"deviation in phi {label}", moment.deviation, **more)
    low, high = specific_surface(curve, table_grain_density("sand"))
    label = "surface of the grains as balls, without what went through the finest sieve"
    ball = (OWN, Cite("ball-surface"))
    middle = (low + high) / 2
    yield _figure(sand, "specific_surface", label, middle, "m2/kg", low=low, high=high, sources=ball)


def _off(sand: SandInput, judgements: tuple[Judgement, ...]) -> Iterator[Figure]:
    first = judgements[0]
    worst = 0.0 if first.worst is None else abs(first.worst.by)
    where = f" at {first.worst.sieve}" if first.worst else ""
    yield _figure(
        sand,
        "off_band",
        f"farthest outside the band of {first.band.title}{where}",
        worst,
        sources=(OWN, first.band.source),
        **({"bound": "at_least"} if first.unknown else {}),
    )


def _measured(sand: SandInput) -> Iterator[Figure]:
    lost = loss(sand)
    if lost is not None and lost >= 0:
        yield _figure(sand, "sieve_loss", "share of the sample not on the sieves afterwards", lost)
    if silt_share(sand) is not None:
        jar = (OWN, Cite("jar-test-practice"))
        yield _figure(sand, "silt", "silt and clay by settled height", silt_share(sand), sources=jar)
    if sand.loose_density is not None:
        yield _loose_density(sand, sand.loose_density)
    if sand.voids is not None:
        yield _figure(sand, "voids", "voids by water poured in", sand.voids)
    elif sand.loose_density is not None:
        yield _voids(sand, sand.loose_density)
    if sand.bulking is not None:
        at = "" if sand.moisture is None else f" at {sand.moisture * 100:g} % moisture"
        yield _figure(sand, "bulking", f"damp over dry loose volume{at}", sand.bulking)


def _loose_density(sand: SandInput, dry: float) -> Figure:
    low, high = dry * (1 - BUCKET_READING), dry * (1 + BUCKET_READING)
    label = "dry loose sand, within what a bucket struck off by hand tells"
    return _figure(sand, "loose_density", label, dry, "kg/m3", low=low, high=high, sources=(OWN, READING_SOURCE))


def _voids(sand: SandInput, dry: float) -> Figure:
    grain = table_grain_density("sand")
    low, voids, high = (
        voids_from_densities(min(grain, dry * (1 + off)), grain) for off in (BUCKET_READING, 0.0, -BUCKET_READING)
    )
    closed = (OWN, READING_SOURCE, Cite("absolute-volumes"), Cite("material-gravity-memory", "sand"))
    return _figure(sand, "voids", "voids by loose and grain density", voids, low=low, high=high, sources=closed)


def _fines(sand: SandInput, curve: Grading) -> Iterator[Figure]:
    yield _figure(sand, "fines", "share through 63 µm", curve.at(FINES), sources=(OWN, EN_SOURCE))


def _placing(sand: SandInput, curve: Grading) -> Iterator[Figure]:
    wanted, middle = water_demand(curve), curve.size(0.5)
    spread: dict[str, Any] = {} if wanted is None else {"low": wanted.low, "high": wanted.high}
    label = "water for equal placing over that of a sand in the middle of the masonry band, assumed by surface"
    value = None if wanted is None else wanted.middle
    yield _figure(sand, "water_demand", label, value, sources=(OWN, WATER_SOURCE), **spread)
    if sand.bulking is None and middle is not None:
        swell = bulking_by_fineness(middle)
        label = "damp over dry loose volume at 2 to 5 % moisture, assumed by fineness: measure it"
        ends: dict[str, Any] = {"low": swell.low, "high": swell.high, "sources": (OWN, BULKING_RANGE, BULKING_SOURCE)}
        yield _figure(sand, "bulking", label, swell.middle, **ends)


def _screened(sand: SandInput, curve: Grading) -> Iterator[Figure]:
    """Only of what holds grains that a screen for sand would keep back."""
    for name, opening, screen in (
        ("screened_4_75", 4.75e-3, "a No.4 screen"),
        ("screened_4", 4e-3, "a screen of 4 mm"),
    ):
        share = screened_share(curve, opening)
        if share is not None and share < 1.0:
            label = f"sand that this gravel yields through {screen}"
            yield _figure(sand, name, label, share, sources=(OWN, INTERPOLATION))


def silt_share(sand: SandInput) -> float | None:
    """Silt and clay by settled height [1]: from the heights, else as stated; None without a jar test."""
    if sand.jar is None:
        return sand.silt
    return fines_by_jar(sand.jar.sand, sand.jar.silt, sand.jar.clay)


def sand_checks(sand: SandInput) -> tuple[Check, ...]:
    """The silt of the jar and the mass lost in sieving against what is usual."""
    found = []
    silt, lost = silt_share(sand), loss(sand)
    if silt is not None:
        found.append(
            _check(
                sand,
                "silt",
                "silt and clay by settled height",
                demand=silt,
                capacity=MOST_SILT,
                source=Cite("jar-test-practice"),
            )
        )
    if lost is not None:
        label = "mass lost or gained in sieving"
        found.append(
            _check(sand, "sieve_loss", label, demand=abs(lost), capacity=LOSS_NOTED, source=Cite("sieve-loss-practice"))
        )
    return tuple(found)


def _check(sand: SandInput, name: str, label: str, *, demand: float, capacity: float, source: Cite) -> Check:
    return Check(
        key=f"sand.{sand.slug}.{name}",
        label=f"{label}, {sand.name}",
        demand=demand,
        capacity=capacity,
        unit="1",
        sources=(OWN, source),
    )
