"""What gap will stand round each log end, and what draught comes through it?"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from cordwright.base import Cite, Figure, Step, cite, table
from cordwright.timber.diffusion import Floats
from cordwright.timber.faces import NO_STOCK
from cordwright.timber.inputs import Species, TimberInput
from cordwright.timber.results import Stock
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_gap
from cordwright.timber.species import wood_of

SHRINKING: Final = Cite("wood-handbook-2010", "shrinkage at a moisture content")
SATURATION: Final = Cite("fibre-saturation")
PLATES: Final = Cite("parallel-plates", "cube of the gap")
OPEN: Final = Cite("open-rings-memory", "a quarter")
DRAUGHT: Final = Cite("draught-memory", "4 Pa")
AIR: Final = Cite("air-memory", "viscosity and density")
SERVICE: Final = "the moisture in service (stock.service_moisture)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Building:
    """What the gaps open into: room volume [m3], path of the air along a gap [m], wood face of the wall [m2].

    `room` says in words what the volume is. `panel_width` is that of the widest panel [m], `wood_fraction` planned [1].
    """

    volume: float
    room: str
    path: float
    wood_face: float
    panel_width: float
    wood_fraction: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodEnds:
    """The log ends of one wood: green diameters [m], shape (n,)."""

    wood: Species
    green: Floats


def by_wood(timber: TimberInput, stock: Stock) -> tuple[WoodEnds, ...]:
    """Give the log ends wood by wood, those of known size.

    Args:
        timber: the stock as stated.
        stock: its log ends.
    """
    names = np.array(stock.species)
    known = np.isfinite(stock.green_diameter)
    return tuple(
        WoodEnds(wood=wood_of(timber, name), green=stock.green_diameter[known & (names == name)])
        for name in dict.fromkeys(stock.species)
    )


def gap_figures(timber: TimberInput, stock: Stock, building: Building) -> Iterator[Figure]:
    """Give the gap round the mean log end and the air it lets through, for a few moistures at laying side by side.

    Keys: `timber.gap_laid_26` and `timber.leakage_laid_26` for wood laid at 26 %, and so on; `timber.leakage` for the
    stated laying moisture, whose gap is `timber.shrinkage_gap`.

    Args:
        timber: the stock as stated.
        stock: its log ends.
        building: what the gaps open into.
    """
    for laid in table("seasoning")["laid"]["moistures"]:
        percent = f"{100 * laid:.0f}"
        yield _gap_figure(timber, stock, laid, percent)
        yield _leakage_figure(timber, stock, building, laid, f"_laid_{percent}")
    if timber.laying_moisture is not None:
        yield _leakage_figure(timber, stock, building, timber.laying_moisture, "")


def _missing(timber: TimberInput, woods: tuple[WoodEnds, ...]) -> tuple[str, ...]:
    if not any(w.green.size for w in woods):
        return (NO_STOCK,)
    service = () if timber.service_moisture is not None else (SERVICE,)
    return (*service, *(f"the shrinkage of {w.wood.label}" for w in woods if w.wood.shrinkage is None))


def mean_shrinkage(wood: Species, checked_share: float | None) -> tuple[float | None, float, float | None]:
    """Low, middle and high shrinkage of the diameter that opens the ring [1]: radial where a check takes the rest.

    Args:
        wood: with its mean shrinkage.
        checked_share: share of the log ends with a main check [1]; None is unknown and counts in the middle as none.
    """
    assert wood.shrinkage is not None
    if wood.radial is None:
        return None, wood.shrinkage, None
    share = 0.0 if checked_share is None else checked_share
    middle = share * wood.radial + (1 - share) * wood.shrinkage
    low, high = sorted((wood.radial, wood.shrinkage))
    return low, middle, high


def _gaps(timber: TimberInput, woods: tuple[WoodEnds, ...], laid: float) -> tuple[Floats, Floats, Floats, bool]:
    """Low, middle and high gap of every log end [m], and whether low and high are known."""
    service, saturation = timber.service_moisture, fibre_saturation(timber)
    assert service is not None
    spread = [mean_shrinkage(w.wood, timber.seasoning.checked_share) for w in woods]
    known = all(s[0] is not None for s in spread)

    def gaps(n: int) -> Floats:
        parts: list[Floats] = []
        for w, shrinkage in zip(woods, spread, strict=True):
            total = shrinkage[n] if shrinkage[n] is not None else shrinkage[1]
            assert total is not None
            parts.append(w.green * shrinkage_gap(1.0, total, laid, service, saturation))
        return np.asarray(np.concatenate(parts))

    return gaps(0), gaps(1), gaps(2), known


def _gap_figure(timber: TimberInput, stock: Stock, laid: float, percent: str) -> Figure:
    key, label = f"timber.gap_laid_{percent}", f"gap all round the mean log end if it is laid at {percent} %"
    woods = by_wood(timber, stock)
    sources = (SHRINKING, SATURATION, *wood_cites(woods))
    missing = _missing(timber, woods)
    if missing:
        return unknown(key, label, "m", missing, sources)
    low, middle, high, known = _gaps(timber, woods, laid)
    ends = tuple(sorted((float(low.mean()), float(high.mean())))) if known else (None, None)
    return Figure(
        key=key,
        label=label,
        value=float(middle.mean()),
        low=ends[0],
        high=ends[1],
        unit="m",
        sources=sources,
        steps=_gap_steps(timber, laid, ends[0]),
    )


def _gap_steps(timber: TimberInput, laid: float, radial: float | None) -> tuple[Step, ...]:
    service = Cite("owner", "stock.service_moisture")
    formula = "fresh diameter x shrinkage x moisture lost below fibre saturation / fibre saturation / 2"
    share = timber.seasoning.checked_share
    word = "a main check takes up what the rim shrinks more than the radius: then radial shrinkage alone"
    return (
        Step(symbol="moisture at laying", value=laid, unit="1", formula="chosen to compare", source=Cite("gap-marks")),
        Step(symbol="moisture in service", value=timber.service_moisture, unit="1", formula=formula, source=service),
        *(
            (Step(symbol="gap with a main check", value=radial, unit="m", formula=word, source=SHRINKING),)
            if radial
            else ()
        ),
        *(
            (
                Step(
                    symbol="share with a main check",
                    value=share,
                    unit="1",
                    formula="stated",
                    source=Cite("owner", "seasoning.checked_share"),
                ),
            )
            if share is not None
            else ()
        ),
    )


def unknown(key: str, label: str, unit: str, missing: tuple[str, ...], sources: tuple[Cite, ...]) -> Figure:
    """A figure without a number, with what is missing for one."""
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)


def wood_cites(woods: tuple[WoodEnds, ...]) -> tuple[Cite, ...]:
    """Give the sources of the woods, each once."""
    return tuple(dict.fromkeys(cite(text) for w in woods for text in w.wood.sources))


def ring_flow(ring: Floats, gap: Floats, path: float, pressure: float, viscosity: float) -> Floats:
    """Air through the gap round each log end [m3/s], shape of `ring`; none through a gap that is closed.

    Args:
        ring: length of the gap round the log end [m].
        gap: clear width [m].
        path: of the air along the log end [m].
        pressure: difference across the wall [Pa].
        viscosity: of air [Pa s].

    Sources: laminar flow between parallel plates (`parallel-plates`).
    """
    return np.asarray(ring * np.maximum(gap, 0.0) ** 3 * pressure / (12 * viscosity * path))


def reynolds(gap: float, path: float, pressure: float, viscosity: float, density: float) -> float:
    """Reynolds number of the flow in a gap, on twice its width [1]; above 2300 the cube law does not hold.

    Args:
        gap: clear width [m].
        path: of the air along the log end [m].
        pressure: difference across the wall [Pa].
        viscosity: of air [Pa s].
        density: of air [kg/m3].

    Sources: closed form (`parallel-plates`).
    """
    speed = gap**2 * pressure / (12 * viscosity * path)
    return 2 * gap * speed * density / viscosity


def air_changes(flow: float, ends: float, volume: float, open_share: float) -> float:
    """Room volumes of air an hour through the open rings [1/h].

    Args:
        flow: through one open ring [m3/s].
        ends: log ends in the wall.
        volume: of the room [m3].
        open_share: share of the rings that are open right through [1].

    Sources: closed form.
    """
    return flow * ends * open_share * 3600 / volume


def _leakage_figure(timber: TimberInput, stock: Stock, building: Building, laid: float, mark: str) -> Figure:
    key = f"timber.leakage{mark}"
    label = f"air changes through the rings once log ends laid at {100 * laid:.3g} % have dried (rough: cube law)"
    woods, row = by_wood(timber, stock), table("seasoning")["leakage"]
    sources = (PLATES, OPEN, DRAUGHT, AIR, SHRINKING, *wood_cites(woods))
    missing = _missing(timber, woods)
    if missing:
        return unknown(key, label, "1/h", missing, sources)
    green = np.concatenate([w.green for w in woods])
    low, middle, high, known = _gaps(timber, woods, laid)
    if reynolds(float(high.max()), building.path, row["pressure"], row["viscosity"], row["density"]) > row["laminar"]:
        return unknown(key, label, "1/h", ("gaps narrow enough for laminar flow",), sources)
    ends = building.wood_face / float((math.pi / 4 * green**2).mean())
    flows = [
        float(ring_flow(math.pi * green, g, building.path, row["pressure"], row["viscosity"]).mean())
        for g in (low, middle, high)
    ]
    rates = [air_changes(flow, ends, building.volume, row["open_share"]) for flow in flows]
    return Figure(
        key=key,
        label=label,
        value=rates[1],
        low=min(rates) if known else None,
        high=max(rates) if known else None,
        unit="1/h",
        sources=sources,
        steps=_leakage_steps(building, ends, flows[1]),
    )


def _leakage_steps(building: Building, ends: float, flow: float) -> tuple[Step, ...]:
    row = table("seasoning")["leakage"]
    how = "ring x gap cubed x pressure / (12 x viscosity x path), mean of the log ends"
    share = "of the rings are open right through; half as many, half the air"
    return (
        Step(symbol="room", value=building.volume, unit="m3", formula=building.room),
        Step(
            symbol="path of the air", value=building.path, unit="m", formula="along both beads; loose fill lets it by"
        ),
        Step(symbol="log ends in the wall", value=ends, unit="", formula="wood face wanted / mean face in fresh wood"),
        Step(symbol="open share", value=row["open_share"], unit="1", formula=share, source=OPEN),
        Step(symbol="pressure", value=row["pressure"], unit="Pa", formula="across the wall", source=DRAUGHT),
        Step(symbol="air through one open ring", value=flow * 3600, unit="m3/h", formula=how, source=PLATES),
    )
