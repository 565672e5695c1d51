"""Which wood and which prices does the project name, in its own lists beside building.toml?"""

from collections.abc import Mapping
from pathlib import Path
from typing import Final

from cordwright.base import Cite
from cordwright.cost.inputs import CostInput, Delivery, PriceRow
from cordwright.project.document import Document
from cordwright.project.faults import FieldFault, Findings, nearest, shown
from cordwright.project.fields import currency_decimals
from cordwright.project.prices import read_prices
from cordwright.project.schema import (
    CostTable,
    DeliveryTable,
    PileTable,
    ProjectTable,
    SeasoningTable,
    SiteTable,
    SpeciesTable,
    StockTable,
    TreatmentTable,
)
from cordwright.project.stock import read_diameters, read_stems
from cordwright.timber import known_species
from cordwright.timber.inputs import (
    MarkedEnd,
    Pile,
    Reading,
    SeasoningInput,
    Species,
    Stem,
    TimberInput,
    Treatment,
    Weighing,
)
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_at

DENSITY_SOURCE: Final = Cite("owner-density")


class Folder:
    """The project's folder: opens the lists named in building.toml, keeps their names and what is told of them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.files: list[Path] = []
        self.echo: list[str] = []

    def place(self, name: str) -> tuple[Path, str]:
        """Give a list's path and its name in messages."""
        path = self.folder / name
        self.files.append(path)
        return path, str(path)


def timber_input(document: Document, folder: Folder, findings: Findings) -> TimberInput | None:
    """Give the wood; None if its tables or lists have a fault."""
    before = findings.count
    stock = document.one("stock", StockTable) or StockTable()
    named = document.file_named("stock", "stems")
    stems: tuple[Stem, ...] = ()
    if named:
        stems = read_stems(*folder.place(named), findings, folder.echo)
    piles = tuple(_pile(f"stock.piles[{i}]", pile, folder, findings) for i, pile in enumerate(stock.piles))
    species = _all_species(document.many("species", SpeciesTable), stock, findings)
    if findings.count > before or not document.sound("stock", "species", "seasoning", "treatment", "site"):
        return None
    sizes = {name: value for name, value in dict(stock).items() if name not in ("stems", "piles")}
    treatment = document.one("treatment", TreatmentTable)
    return TimberInput(
        stems=stems,
        piles=piles,
        species=species,
        seasoning=_seasoning(document),
        treatment=Treatment(**dict(treatment)) if treatment else None,
        **sizes,
    )


def _seasoning(document: Document) -> SeasoningInput:
    """Give the stack, with the day on which it is to be laid."""
    table = document.one("seasoning", SeasoningTable) or SeasoningTable()
    site = document.one("site", SiteTable) or SiteTable()
    rows = {
        "samples": tuple(MarkedEnd(**dict(end)) for end in table.samples),
        "weighings": tuple(Weighing(**dict(row)) for row in table.weighings),
        "readings": tuple(Reading(**dict(row)) for row in table.readings),
    }
    return SeasoningInput(**{**dict(table), **rows}, laying=site.laying_begins)


def _pile(field: str, pile: PileTable, folder: Folder, findings: Findings) -> Pile:
    diameters = read_diameters(*folder.place(pile.diameters), findings, folder.echo, field=f"{field}.diameters")
    return Pile(**{**dict(pile), "diameters": diameters})


def _all_species(tables: tuple[SpeciesTable, ...], stock: StockTable, findings: Findings) -> tuple[Species, ...]:
    names = [table.name for table in tables]
    read: list[Species] = []
    for i, table in enumerate(tables):
        if table.name in names[:i]:
            findings.add(f"species[{i}].name", f"{shown(table.name)} is described twice", "keep one of the two")
        try:
            read.append(species_of(table, stock))
        except _SpeciesFault as fault:
            findings.add_fault(f"species[{i}].{fault.key}", fault)
    return tuple(read)


class _SpeciesFault(FieldFault):
    """A fault in one key of a species."""

    def __init__(self, key: str, message: str, hint: str) -> None:
        super().__init__(message, hint)
        self.key = key


def species_of(table: SpeciesTable, stock: StockTable) -> Species:
    """Give a wood: the table's row it is like, under the owner's own values.

    Raises:
        FieldFault: no such wood to be like, or a density that cannot be traced back to a basic one.
    """
    rows = known_species()
    if table.like is not None and table.like not in rows:
        raise _SpeciesFault(
            "like", f"there is no wood {shown(table.like)} in the table", nearest(table.like, list(rows))
        )
    like = rows[table.like] if table.like is not None else Species(name=table.name, label=table.name)
    values = {key: getattr(table, key) for key in ("shrinkage", "radial", "tangential", "basic_density")}
    own: Mapping[str, float] = {key: value for key, value in values.items() if value is not None}
    known = {key: own.get(key, getattr(like, key)) for key in values}
    if "shrinkage" not in own and {"radial", "tangential"} <= own.keys():
        known["shrinkage"] = (own["radial"] + own["tangential"]) / 2
    if table.density is not None:
        known["basic_density"] = _basic_density(table, known["shrinkage"], stock)
    # The table's volumetric shrinkage belongs to its own radial and tangential ones, not to the owner's.
    volumetric = None if own.keys() & {"shrinkage", "radial", "tangential"} else like.volumetric
    sources = (*like.sources, *(("owner",) if own or table.density is not None else ()))
    return Species(name=table.name, label=like.label, volumetric=volumetric, sources=sources, **known)


def _basic_density(table: SpeciesTable, shrinkage: float | None, stock: StockTable) -> float:
    """Trace a density weighed at the measured moisture back to oven-dry mass over green volume [kg/m3]."""
    if table.basic_density is not None:
        raise _SpeciesFault("density", "density and basic_density are both stated", "keep the one you measured")
    if stock.measured_moisture is None:
        hint = 'state measured_moisture = "..." in [stock], or give basic_density'
        raise _SpeciesFault("density", "the moisture at which this density was taken is not stated", hint)
    saturation = fibre_saturation(TimberInput(fibre_saturation=stock.fibre_saturation))
    if shrinkage is None and stock.measured_moisture < saturation:
        hint = 'state shrinkage = "..." for this wood, or give basic_density'
        raise _SpeciesFault("density", "how far this wood had shrunk when weighed is not known", hint)
    assert table.density is not None
    return basic_density(table.density, stock.measured_moisture, shrinkage or 0.0, saturation)


def basic_density(density: float, moisture: float, shrinkage: float, saturation: float) -> float:
    """Oven-dry mass over green volume of a wood whose density was taken at some moisture [kg/m3].

    The mass loses its water, and the volume swells back across the grain in proportion to the moisture still missing to
    fibre saturation; along the grain it does not change.

    Args:
        density: mass over volume, both at `moisture` [kg/m3].
        moisture: water over oven-dry mass [1].
        shrinkage: of the diameter, green to oven-dry, as a share of the green one [1].
        saturation: moisture below which wood shrinks [1].

    Sources: closed form (`DENSITY_SOURCE`).
    """
    return density / (1 + moisture) * (1 - shrinkage_at(shrinkage, moisture, saturation)) ** 2


def cost_input(document: Document, folder: Folder, findings: Findings) -> tuple[CostInput, tuple[str, ...]] | None:
    """Give the prices, and the SI unit each row's `unit` was typed in; None if there is a fault in them."""
    before = findings.count
    project, cost = document.one("project", ProjectTable), document.one("cost", CostTable) or CostTable()
    currency = project.currency if project else ""
    purse = _purse(cost, currency, findings)
    named = document.file_named("cost", "prices")
    rows: tuple[PriceRow, ...] = ()
    units: tuple[str, ...] = ()
    if named:
        rows, units = read_prices(*folder.place(named), currency, findings, folder.echo)
    if findings.count > before or project is None or not document.sound("cost"):
        return None
    decimals = currency_decimals(currency) if cost.decimals is None else cost.decimals
    read = CostInput(
        rows=rows,
        currency=currency,
        decimals=decimals,
        purse=purse,
        file=named,
        as_of=cost.as_of,
        deliveries=tuple(_delivery(table) for table in cost.deliveries),
    )
    return read, units


def _delivery(table: DeliveryTable) -> Delivery:
    return Delivery(name=table.name, day=table.date, stage=table.stage, carries=table.carries, trips=table.trips)


def _purse(cost: CostTable, currency: str, findings: Findings) -> float | None:
    if cost.purse is None:
        return None
    amount, code = cost.purse
    if currency and code != currency:
        findings.add("cost.purse", f"the purse is in {code}, the project in {currency}", f"write it in {currency}")
    return float(amount)
