"""How heavy is what the builder lifts?

Oven-dry mass is basic density times the volume of the fresh wood; the water comes on top. Logs are weight here, never
strength.
"""

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Caution, Cite, Figure, Step, caution, cite, table
from cordwright.timber.inputs import Species, TimberInput
from cordwright.timber.lots import Lot
from cordwright.timber.results import StemCut
from cordwright.timber.shrinkage import fibre_saturation, green_ratio, shrinkage_at
from cordwright.timber.species import wood_of
from cordwright.timber.volumes import cone_frustum


def dry_mass(wood: Species, volume: NDArray[np.float64], green: float | None) -> NDArray[np.float64]:
    """Oven-dry mass of pieces [kg], shape (n,), NaN where the wood's density or its green volume is unknown.

    Args:
        wood: with its basic density.
        volume: of the pieces as measured [m3], shape (n,).
        green: green diameter over the measured one [1], None where unknown.

    Sources: closed form, by the meaning of basic density (`weight-times-acceleration`).
    """
    if wood.basic_density is None or green is None:
        return np.full(volume.shape, np.nan)
    return volume * (green**2 * wood.basic_density)


def density_at(wood: Species, moisture: float, saturation: float) -> float | None:
    """Density of a wood at a moisture content, water included [kg/m3]; None where its row is not known.

    Args:
        wood: with basic density and volumetric shrinkage.
        moisture: water over oven-dry mass [1].
        saturation: moisture below which wood shrinks [1].

    Sources: Wood Handbook 2010, density from basic gravity and volumetric shrinkage.
    """
    if wood.basic_density is None or wood.volumetric is None:
        return None
    return wood.basic_density / (1 - shrinkage_at(wood.volumetric, moisture, saturation)) * (1 + moisture)


def basic_density(density: float, moisture: float, shrinkage: float, saturation: float) -> float:
    """Oven-dry mass over green volume of wood that was weighed at some moisture [kg/m3].

    Args:
        density: mass over volume, both at `moisture` [kg/m3].
        moisture: water over oven-dry mass [1].
        shrinkage: of the diameter, green to oven-dry [1].
        saturation: moisture below which wood shrinks [1].

    Sources: closed form; along the grain wood is taken not to shrink.
    """
    return density / (1 + moisture) * (1 - shrinkage_at(shrinkage, moisture, saturation)) ** 2


def green_moisture() -> tuple[float, float, float]:
    """Low, middle and high moisture of fresh wood [1].

    Sources: assumption (`green-moisture`).
    """
    row = table("stock")["green"]
    return row["low"], row["moisture"], row["high"]


def moisture_in_hand(timber: TimberInput) -> tuple[float, float, float]:
    """Low, middle and high moisture of the wood as it is lifted now [1]: as measured, fresh where that is not known."""
    measured = timber.measured_moisture
    if measured is None or measured >= fibre_saturation(timber):
        return green_moisture()
    return measured, measured, measured


def mass_figures(timber: TimberInput, lots: tuple[Lot, ...], cuts: tuple[StemCut, ...]) -> Iterator[Figure]:
    """Give the heaviest log end and, where there are stems, the heaviest stem.

    Args:
        timber: the stock as stated.
        lots: the same, cut.
        cuts: its stems.
    """
    ends = [(lot.wood, float(dry_mass(lot.wood, lot.volume, lot.green).max())) for lot in lots if lot.count]
    yield _heaviest("timber.heaviest_piece", "heaviest log end, as it is in hand", ends, timber)
    if cuts:
        stems = [_stem_dry_mass(timber, cut) for cut in cuts]
        yield _heaviest("timber.heaviest_stem", "heaviest stem or stick, as it is in hand", stems, timber)


def _stem_dry_mass(timber: TimberInput, cut: StemCut) -> tuple[Species, float]:
    """Oven-dry mass of a whole stem; bark that is on counts as wood."""
    stem, wood = cut.stem, wood_of(timber, cut.stem.species)
    volume = np.array([cone_frustum(stem.butt_diameter, stem.top_diameter, stem.length)])
    return wood, float(dry_mass(wood, volume, green_ratio(wood, timber))[0])


def _heaviest(key: str, label: str, masses: list[tuple[Species, float]], timber: TimberInput) -> Figure:
    """Give the heaviest of the known masses: at least that, where a wood's mass is unknown."""
    known = [(mass, wood) for wood, mass in masses if not math.isnan(mass)]
    missing = tuple(dict.fromkeys(_missing(wood) for wood, mass in masses if math.isnan(mass)))
    if not known:
        missing = missing or ("stems or a pile that give a log end",)
        sources = (Cite("weight-times-acceleration", "mass"),)
        return Figure(key=key, label=label, value=None, unit="kg", bound="unknown", missing=missing, sources=sources)
    dry, wood = max(known, key=lambda pair: pair[0])
    low, middle, high = (dry * (1 + moisture) for moisture in moisture_in_hand(timber))
    spread = (low, high) if low < high else (None, None)
    return Figure(
        key=key,
        label=label,
        value=middle,
        low=spread[0],
        high=spread[1],
        unit="kg",
        bound="at_least" if missing else "exact",
        missing=missing,
        sources=(*(cite(text) for text in wood.sources), _moisture_source(timber)),
        steps=tuple(_steps(timber, wood, dry)),
    )


def _missing(wood: Species) -> str:
    blank = wood.basic_density is None
    return f"the basic density of {wood.label}" if blank else f"the shrinkage of {wood.label}"


def _moisture_source(timber: TimberInput) -> Cite:
    green = moisture_in_hand(timber) == green_moisture()
    return Cite("green-moisture", "60 to 150 %") if green else Cite("owner", "stock.measured_moisture")


def _steps(timber: TimberInput, wood: Species, dry: float) -> Iterator[Step]:
    named = cite(wood.sources[-1]) if wood.sources else None
    yield Step(symbol=f"basic density of {wood.label}", value=wood.basic_density, unit="kg/m3", source=named)
    yield Step(symbol="oven-dry mass", value=dry, unit="kg", formula="basic density x volume of the fresh wood")
    yield Step(
        symbol="moisture in hand",
        value=moisture_in_hand(timber)[1],
        unit="1",
        formula="water over oven-dry mass; mass = oven-dry mass x (1 + moisture)",
        source=_moisture_source(timber),
    )
    if timber.laying_moisture is not None:
        laid = dry * (1 + timber.laying_moisture)
        source = Cite("owner", "stock.laying_moisture")
        yield Step(symbol="mass at laying", value=laid, unit="kg", formula="at the laying moisture", source=source)


def lifting_limit() -> float:
    """Mass above which the caution about lifting is shown [kg].

    Sources: common practice (`lifting-practice`).
    """
    return float(table("stock")["lifting"]["mass"])


def timber_cautions(timber: TimberInput, masses: tuple[Figure, ...]) -> tuple[Caution, ...]:
    """Warn of felling where stems are listed, and of lifting where the heaviest thing may be over the limit.

    An unknown mass may be over it too.

    Args:
        timber: the stock as stated.
        masses: heaviest log end and stem.
    """
    heavy = any(_may_be_heavy(figure) for figure in masses)
    wood = bool(timber.stems or timber.piles)
    return (*((caution("felling"),) if timber.stems else ()), *((caution("lifting"),) if wood and heavy else ()))


def _may_be_heavy(figure: Figure) -> bool:
    """Whether a mass is over the limit at its highest, or not wholly known."""
    most = figure.value if figure.high is None else figure.high
    return figure.bound != "exact" or (isinstance(most, float) and most > lifting_limit())
