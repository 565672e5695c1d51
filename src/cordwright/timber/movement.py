"""How wide does a log end check, and what swells when the wood was laid drier than the air around it?"""

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from cordwright.base import Cite, Figure, Step
from cordwright.site import MonthlyNormals
from cordwright.timber.faces import LAYING, NO_STOCK
from cordwright.timber.gaps import SATURATION, SHRINKING, Building, WoodEnds, by_wood, unknown, wood_cites
from cordwright.timber.inputs import TimberInput
from cordwright.timber.moisture import site_moisture
from cordwright.timber.results import Stock
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_at

AIR: Final = "temperature and humidity of the months (site.months)"


def check_opening(green: float, radial: float, tangential: float, moisture: float, saturation: float) -> float:
    """Width at the rim of the one main check that takes up a round's tangential shrinkage [m].

    Args:
        green: diameter in fresh wood [m].
        radial: shrinkage green to oven-dry along the radius [1].
        tangential: shrinkage green to oven-dry along the rings [1].
        moisture: of the wood [1].
        saturation: moisture below which wood shrinks [1].

    Sources: closed form (`check-opening`): the rim shrinks more than the circle that the radius leaves.
    """
    return (
        math.pi * green * (shrinkage_at(tangential, moisture, saturation) - shrinkage_at(radial, moisture, saturation))
    )


def movement_figures(
    timber: TimberInput, stock: Stock, building: Building, normals: MonthlyNormals | None
) -> Iterator[Figure]:
    """Give the main check's opening at laying, and what the wood swells when the air is damper than it was laid.

    Args:
        timber: the stock as stated.
        stock: its log ends.
        building: with its widest panel.
        normals: the site's months.
    """
    woods = tuple(w for w in by_wood(timber, stock) if w.green.size)
    yield _check_figure(timber, woods)
    yield from _swelling_figures(timber, woods, building, normals)


def _check_figure(timber: TimberInput, woods: tuple[WoodEnds, ...]) -> Figure:
    key, label = "timber.check_opening", "width at the rim of a single main check in the mean log end at laying"
    source = Cite("check-opening", "rim less radius")
    missing: tuple[str, ...] = () if woods else (NO_STOCK,)
    missing += (LAYING,) if timber.laying_moisture is None else ()
    missing += tuple(
        f"radial and tangential shrinkage of {w.wood.label}"
        for w in woods
        if w.wood.radial is None or w.wood.tangential is None
    )
    if missing or timber.laying_moisture is None:
        return unknown(key, label, "m", missing, (source, SHRINKING))
    saturation, laid = fibre_saturation(timber), timber.laying_moisture
    widths = [
        w.green * check_opening(1.0, w.wood.radial or 0.0, w.wood.tangential or 0.0, laid, saturation) for w in woods
    ]
    return Figure(
        key=key,
        label=label,
        value=float(np.concatenate(widths).mean()),
        low=0.0,
        unit="m",
        high=float(np.concatenate(widths).mean()),
        sources=(source, SHRINKING, *wood_cites(woods)),
        steps=(
            Step(
                symbol="moisture at laying",
                value=laid,
                unit="1",
                formula="typed",
                source=Cite("owner", "stock.laying_moisture"),
            ),
            Step(
                symbol="opening",
                value=None,
                unit="",
                source=source,
                formula="pi x fresh diameter x (tangential - radial) at that moisture, all of it in one check; many "
                "fine checks open less each",
            ),
        ),
    )


def _swelling_figures(
    timber: TimberInput, woods: tuple[WoodEnds, ...], building: Building, normals: MonthlyNormals | None
) -> Iterator[Figure]:
    """What wood laid drier than the outdoor air swells: towards the year's mean, and at most the dampest month's."""
    site, laid = site_moisture(normals), timber.laying_moisture
    words = "when it takes the year's mean moisture outdoors (high: the dampest month's)"
    missing: tuple[str, ...] = () if woods else (NO_STOCK,)
    missing += () if site else (AIR,)
    missing += (LAYING,) if laid is None else ()
    missing += tuple(f"the shrinkage of {w.wood.label}" for w in woods if w.wood.shrinkage is None)
    names = (
        ("timber.swelling_log_end", f"what the mean log end swells in diameter {words}"),
        ("timber.swelling_panel", f"what all log ends across the widest panel swell together {words}"),
    )
    sources = (SHRINKING, SATURATION, Cite("owner", "site.months"), Cite("line-share", "share of a line"))
    if missing or site is None or laid is None:
        yield from (unknown(key, label, "m", missing, sources) for key, label in names)
        return
    per_size, diameter = _swelling(timber, woods, laid, (site.year, max(site.months)))
    across = building.panel_width * building.wood_fraction
    steps = _swelling_steps(laid, site.year, max(site.months), building)
    for (key, label), size in zip(names, (diameter, across), strict=True):
        yield Figure(
            key=key,
            label=label,
            value=per_size[0] * size,
            high=per_size[1] * size,
            unit="m",
            sources=(*sources, *wood_cites(woods)),
            steps=steps,
        )


def _swelling(
    timber: TimberInput, woods: tuple[WoodEnds, ...], laid: float, damp: tuple[float, float]
) -> tuple[tuple[float, float], float]:
    """Swelling over the size at laying for two moistures of the air [1], and the mean diameter at laying [m]."""
    saturation = fibre_saturation(timber)
    counts = np.array([w.green.size for w in woods], dtype=np.float64)
    shares = counts / counts.sum()
    total = float(sum(share * (w.wood.shrinkage or 0.0) for share, w in zip(shares, woods, strict=True)))
    before = 1 - shrinkage_at(total, laid, saturation)
    grown = tuple(max(0.0, 1 - shrinkage_at(total, m, saturation) - before) / before for m in damp)
    green = float(np.concatenate([w.green for w in woods]).mean())
    return (grown[0], grown[1]), green * before


def _swelling_steps(laid: float, year: float, dampest: float, building: Building) -> tuple[Step, ...]:
    line = "widest panel x planned wood fraction: wood along a level line"
    return (
        Step(symbol="moisture at laying", value=laid, unit="1", formula="typed", source=Cite("owner", "stock")),
        Step(symbol="year's mean outdoors", value=year, unit="1", formula="mean of the months"),
        Step(symbol="dampest month", value=dampest, unit="1", formula="a log end seldom follows so far"),
        Step(
            symbol="wood across the panel",
            value=building.panel_width * building.wood_fraction,
            unit="m",
            formula=line,
            source=Cite("line-share", "share of a line"),
        ),
    )
