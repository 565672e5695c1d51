"""What may stand in building.toml? One model for each of its tables, key by key as the owner writes them."""

from typing import Annotated, Any, Final, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict

from cordwright.project.faults import FieldFault, shown
from cordwright.project.fields import (
    Bearing,
    Bulking,
    Clock,
    Conductivity,
    Coverage,
    Currency,
    Date,
    Density,
    Distance,
    FileName,
    Latitude,
    Length,
    Level,
    Locale,
    Longitude,
    Mass,
    Moisture,
    Money,
    MonthDays,
    MonthDepths,
    MonthShares,
    MonthSpeeds,
    MonthTemperatures,
    Name,
    Parts,
    PartShare,
    Pitch,
    Share,
    Size,
    Speed,
    Strength,
    Temperature,
    Text,
    Time,
    Units,
    Volume,
    YearDay,
    choice,
    whole,
    yes_no,
)

FIBRES: Final = ("sawdust", "shavings", "cellulose", "other")
SCRATCHES: Final = ("powders", "scratches", "marks only")


class Table(BaseModel):
    """A table of the file: every key known, nothing else taken, nothing changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class ProjectTable(Table):
    """[project]: what it is called and how it is shown."""

    name: Name
    units: Units
    locale: Locale
    currency: Currency
    revision: Text = "A"
    notes: tuple[Text, ...] = ()


class MonthsTable(Table):
    """[site.months]: usual weather of each month at the nearest station, twelve values a row, January first."""

    station: Text = ""
    distance: Distance | None = None
    height_difference: Level | None = None
    temperature: MonthTemperatures
    low: MonthTemperatures | None = None
    high: MonthTemperatures | None = None
    humidity: MonthShares | None = None
    rain: MonthDepths | None = None
    rain_days: MonthDays | None = None
    frost_nights: MonthDays | None = None
    wind: MonthSpeeds | None = None
    wet_from: Length | None = None


class WeatherTable(Table):
    """[site.weather]: a weather file, and the headings of its columns where it is a list of days."""

    file: FileName
    distance: Distance | None = None
    height_difference: Level | None = None
    wet_from: Length | None = None
    date: Text = ""
    low: Text = ""
    high: Text = ""
    mean: Text = ""
    rain: Text = ""
    wind: Text = ""


class ForecastTable(Table):
    """[[forecast]]: the weather of a day ahead."""

    date: Date
    low: Temperature
    high: Temperature
    humidity: Share | None = None
    wind: Speed | None = None
    rain: Length | None = None


class SiteTable(Table):
    """[site]: the place."""

    place: Text = ""
    latitude: Latitude | None = None
    longitude: Longitude | None = None
    elevation: Level | None = None
    soil: Text = ""
    first_hard_frost: YearDay | None = None
    laying_begins: Date | None = None
    months: MonthsTable | None = None
    weather: WeatherTable | None = None


class RuleTable(Table):
    """[[rules]]: a rule as somebody told it to the owner."""

    rule: Name
    value: Name
    said_by: Name
    date: Date
    limits: Text = ""
    sense: Annotated[Literal["at most", "at least"], choice("at most", "at least")] = "at most"


class PlanTable(Table):
    """[plan]: the outline on the inside wall face and what all panels share."""

    shape: Annotated[Literal["rectangle", "polygon", "round", "oval"], choice("rectangle", "polygon", "round", "oval")]
    inside_length: Size | None = None
    inside_width: Size | None = None
    inside_diameter: Size | None = None
    chamfer: Size | None = None
    corner_radius: Length | None = None
    corners: tuple[Text, ...] | None = None
    height: Size
    north: Bearing = 0.0
    side_names: tuple[Name, ...] = ()
    post_allowance: Length = 0.0
    wall_head_gap: Length | None = None
    opening_slack: Length | None = None
    floor_above_ground: Level | None = None
    ceiling_height: Size | None = None


class PlinthTable(Table):
    """[plinth]: the raised base."""

    height: Size | None = None
    width: Size | None = None


class FrameTable(Table):
    """[frame]: posts and ring beam."""

    material: Text = ""
    post_width: Size | None = None
    post_depth: Size | None = None
    beam_depth: Size | None = None


class CornersTable(Table):
    """[corners]: with posts, or built up of squared blocks that cross in alternate courses."""

    kind: Annotated[Literal["posts", "built-up"], choice("posts", "built-up")] = "posts"
    block_length: Size | None = None
    block_height: Size | None = None
    joint: Size | None = None


class PostTable(Table):
    """[[posts]]: a post within a side."""

    side: Name
    from_left: Length


class RoofTable(Table):
    """[roof]: its form; the ridge as a compass bearing."""

    form: Annotated[Literal["gable", "hip", "shed", "cone"], choice("gable", "hip", "shed", "cone")]
    pitch: Pitch
    overhang: Length
    ridge: Bearing | None = None


class FillTable(Table):
    """[wall.fill]: the loose fill of the cavity."""

    material: Text = ""
    waste: Share = 0.0
    density: Density | None = None
    lime_share: Share | None = None


class WallHeatTable(Table):
    """[wall.heat]: what the owner knows of how the wall leads heat."""

    along_grain: Conductivity | None = None
    across_grain: Conductivity | None = None
    mortar: Conductivity | None = None
    fill: Text = ""
    fill_conductivity: Conductivity | None = None
    frame_timber: Size | None = None
    wire_diameter: Size | None = None
    wire_spacing: Size | None = None


class JointsTable(Table):
    """[wall.joints]: clear widths between log ends."""

    nominal: Size
    least: Size
    largest: Size
    edge: Size


class WallTable(Table):
    """[wall]: its section, its wood, its joints."""

    log_end_length: Size
    bead: Size
    proud: Length = 0.0
    wood_fraction: PartShare
    wood_fraction_low: PartShare | None = None
    wood_fraction_high: PartShare | None = None
    fill: FillTable | None = None
    heat: WallHeatTable | None = None
    joints: JointsTable


class PanelTable(Table):
    """[[panels]]: what one panel has of its own."""

    name: Name
    head: Annotated[Literal["level", "gable", "sloping"], choice("level", "gable", "sloping")] = "level"
    rise: Length = 0.0
    peak_from_left: Length | None = None
    left: Length | None = None
    right: Length | None = None
    post_allowance: Length | None = None


class OpeningTable(Table):
    """[[openings]]: a window, a door or another hole."""

    id: Name
    panel: Name
    use: Annotated[Literal["window", "door", "other"], choice("window", "door", "other")] = "window"
    shape: Annotated[Literal["rectangle", "round", "arched"], choice("rectangle", "round", "arched")] = "rectangle"
    width: Size
    height: Size
    sill: Length
    from_left: Length
    rise: Length = 0.0
    lintel_depth: Size | None = None
    lintel_bearing: Size | None = None


class SleeveTable(Table):
    """[[sleeves]]: a pipe through the wall."""

    id: Name
    panel: Name
    what: Text
    diameter: Size
    from_left: Length
    height: Length


class BottleTable(Table):
    """[[bottles]]: bottle ends within a band of one panel."""

    id: Name
    panel: Name
    count: Annotated[int, whole(1, 10_000)]
    diameter: Size
    band_low: Length
    band_high: Length


class PileTable(Table):
    """[[stock.piles]]: a stack of pieces cut to length."""

    species: Name
    stacked_volume: Volume
    solid_factor: PartShare
    solid_factor_low: PartShare | None = None
    solid_factor_high: PartShare | None = None
    diameters: FileName
    shape: Annotated[Literal["round", "half", "quarter"], choice("round", "half", "quarter")] = "round"


class StockTable(Table):
    """[stock]: the wood and how it is cut."""

    stems: FileName | None = None
    kerf: Length = 0.0
    end_trim: Length = 0.0
    least_diameter: Length = 0.0
    cull_share: Share | None = None
    spare_share: Share | None = None
    bark_factor: Share | None = None
    laying_moisture: Moisture | None = None
    service_moisture: Moisture | None = None
    measured_moisture: Moisture | None = None
    fibre_saturation: Share | None = None
    piles: tuple[PileTable, ...] = ()


class SpeciesTable(Table):
    """[[species]]: a wood by the owner's name, like one of the table, with the owner's own values."""

    name: Name
    like: Name | None = None
    shrinkage: Share | None = None
    radial: Share | None = None
    tangential: Share | None = None
    basic_density: Density | None = None
    density: Density | None = None


class MarkedEndTable(Table):
    """[[seasoning.samples]]: a log end marked for weighing."""

    name: Name
    diameter: Size
    length: Size | None = None
    oven_dry_mass: Mass | None = None
    cut: Date | None = None


class WeighingTable(Table):
    """[[seasoning.weighings]]: a marked end on the scale."""

    end: Name
    date: Date
    mass: Mass


class ReadingTable(Table):
    """[[seasoning.readings]]: a meter reading, of a marked end or somewhere in the stack."""

    date: Date
    value: Moisture
    where: Text = ""


class SeasoningTable(Table):
    """[seasoning]: the stack, its days, and what was measured on it."""

    felled: Date | None = None
    peeled: Date | None = None
    stacked: Date | None = None
    bark: Annotated[Literal["off", "on", ""], choice("off", "on")] = ""
    cover: Annotated[Literal["top", "all sides", "none", ""], choice("top", "all sides", "none")] = ""
    ends: Annotated[Literal["open", "closed", ""], choice("open", "closed")] = ""
    on_bearers: Annotated[bool, yes_no()] | None = None
    stickers: Annotated[bool, yes_no()] | None = None
    lay_anyway: Text = ""
    checked_share: Share | None = None
    samples: tuple[MarkedEndTable, ...] = ()
    weighings: tuple[WeighingTable, ...] = ()
    readings: tuple[ReadingTable, ...] = ()


class TreatmentTable(Table):
    """[treatment]: what the log ends are treated with, as its label says."""

    product: Name
    registration: Text = ""
    active: Annotated[
        Literal["boric acid", "borax", "DOT", "other", ""], choice("boric acid", "borax", "DOT", "other")
    ] = ""
    strength: PartShare | None = None
    strength_by_volume: Density | None = None
    density: Density | None = None
    coverage: Coverage | None = None
    applications: Annotated[int, whole(1, 10)] | None = None
    faces: Annotated[Literal["both", "one"], choice("both", "one")] = "both"
    temperature: Temperature | None = None
    uptake_depth: Size | None = None


class PartTable(Table):
    """[[mix.parts]]: one material in the form it comes in."""

    name: Name
    kind: Annotated[
        Literal["cement", "lime", "sand", "fibre", "pre-blended"],
        choice("cement", "lime", "sand", "fibre", "pre-blended"),
    ]
    form: Annotated[
        Literal["powder", "putty", "bag", "damp sand", "dry sand", "soaked fibre"],
        choice("powder", "putty", "bag", "damp sand", "dry sand", "soaked fibre"),
    ]
    parts: Parts
    bulk_density: Density | None = None
    solid_density: Density | None = None
    moisture: Moisture | None = None
    bulking: Bulking | None = None
    cement_share: Share | None = None
    solids_share: Share | None = None
    bag: Mass | None = None
    material: Annotated[Literal["sawdust", "shavings", "cellulose", "other"], choice(*FIBRES)] | None = None
    wood: Text = ""
    borate: Annotated[bool, yes_no()] | None = None
    sand: Text = ""


class PatTable(Table):
    """[[mix.pats]]: a test pat of mortar, cast and looked at."""

    cast: Date
    looked_at: Date
    result: Annotated[Literal["hard", "crumbles", "crazed", "soft"], choice("hard", "crumbles", "crazed", "soft")]
    mix: Text = ""
    scratch: Annotated[Literal["", "powders", "scratches", "marks only"], choice(*SCRATCHES)] = ""
    strength: Strength | None = None
    note: Text = ""


def _named_parts(value: Any) -> Any:
    """Refuse a mix written as bare numbers: nobody knows then what is damp, putty or powder."""
    if isinstance(value, list):
        return value
    raise FieldFault(
        f"{shown(value)} does not say in which form the parts come",
        "name each part and the form it comes in, one [[mix.parts]] each with name, kind, form (powder, putty, bag, "
        "damp sand, dry sand, soaked fibre) and parts",
    )


class MixTable(Table):
    """[mix]: the bucket, the waste and the parts."""

    name: Text = ""
    bucket: Volume | None = None
    container: Volume | None = None
    pot_life: Time | None = None
    stop: Clock | None = None
    waste: Share = 0.0
    air: Share | None = None
    measured_yield: Share | None = None
    parts: Annotated[tuple[PartTable, ...], BeforeValidator(_named_parts)] = ()
    pats: tuple[PatTable, ...] = ()


class DeliveryTable(Table):
    """[[cost.deliveries]]: one delivery or trip, by the name it has in the price list."""

    name: Name
    date: Date | None = None
    stage: Text = ""
    carries: Mass | None = None
    trips: Annotated[int, whole(1, 1000)] | None = None


class CostTable(Table):
    """[cost]: the price list, what can be spent, and what comes when."""

    prices: FileName | None = None
    purse: Money | None = None
    decimals: Annotated[int, whole(0, 4)] | None = None
    as_of: Date | None = None
    deliveries: tuple[DeliveryTable, ...] = ()
