"""What goes into the tub, and how is the work kept damp and out of the frost? The mix card and the curing sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Final

from cordwright.base import Cite, Figure, caution
from cordwright.book.batch_words import (
    FORMS,
    about,
    goes_words,
    last_batch_words,
    litres,
    machine_words,
    pot_words,
    set_words,
    step_words,
    water_words,
)
from cordwright.book.content import (
    Block,
    CautionBox,
    Column,
    Fact,
    Heading,
    Items,
    MixCard,
    MixRow,
    Paragraph,
    Row,
    Sheet,
    Strokes,
    Table,
    table,
)
from cordwright.book.curing_words import frost_words
from cordwright.book.drawing import Material
from cordwright.book.lettering import Lettering, capped
from cordwright.book.small_drawings import draw_buckets
from cordwright.case import Project
from cordwright.mortar import (
    BatchCard,
    Curing,
    Load,
    MortarInput,
    batch_card,
    curing_by_month,
    evaporation_limit,
    reckon_curing,
    retarders,
)
from cordwright.mortar.batch_card import BALL, BALL_TEST, FIRST_AID, GEAR, MACHINE, PADDLE
from cordwright.mortar.curing import GUIDES, LIMIT_OF_NORMALS
from cordwright.mortar.weather_bands import all_bands
from cordwright.reckon import Reckoning

MATERIALS: Final[dict[str, Material]] = {
    "cement": "cement",
    "lime": "lime",
    "sand": "sand",
    "fibre": "fibre",
    "pre-blended": "cement",
}
STROKE_BOXES: Final = 8
CARD_CITES: Final = (PADDLE, MACHINE, BALL, Cite("pot-life-practice", "90 min to 2.5 h"))
CURING_CITES: Final = (*GUIDES, Cite("crrel-sr-97-16", "one freeze"), Cite("aci-305-memory", "1.0 kg/m2h"))


def sheet_cites(project: Project, reckoning: Reckoning) -> tuple[Cite, ...]:
    """What these sheets stand on beyond the figures: the habit of the card, and the rules of the weather."""
    card = CARD_CITES if reckoning.mix is not None else ()
    nails = (Cite("nails-as-keys", "common practice, no source"),) if reckoning.wall.nail_keys else ()
    retarding = tuple(c for r in retarders(project.mortar) for c in r.sources) if reckoning.mix is not None else ()
    evaporation = (Cite("uno-1998", "metric form"), Cite("hover-2020", "40 % either way"))
    return (*card, *retarding, *nails, *CURING_CITES, *evaporation)


def mix_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """One batch of mortar in buckets, for the wall beside the tub."""
    mortar, mix = project.mortar, reckoning.mix
    if not mortar.parts or mix is None:
        return Sheet(mark="MIX", title="Mortar", slug="mix", blocks=(Paragraph(text="The file states no mix yet."),))
    card = batch_card(mortar, mix)
    blocks: list[Block] = [
        MixCard(
            rows=tuple(_mix_row(x, n, lettering) for n, x in enumerate(card.loads, start=1)),
            loading=tuple(step_words(step, lettering) for step in card.steps),
            facts=_facts(card, mortar, lettering),
        ),
        *(Paragraph(text=words) for words in _below(card, mortar, lettering)),
        card_caution(),
        Strokes(label=_stroke_words(reckoning, card, lettering), count=STROKE_BOXES),
    ]
    return Sheet(
        mark="MIX",
        title="Mortar, one tub" if card.goes > 1 else "Mortar, one batch",
        slug="mix",
        blocks=tuple(blocks),
        aside=_bucket_words(mortar, lettering),
        manner="large",
    )


def card_caution() -> CautionBox:
    """Alkali and silica in as few words as a wall takes; both stand in full on the sheet of cautions."""
    alkali, silica = caution("alkali-burns"), caution("silica-dust")
    return CautionBox(
        harm=f"{alkali.harm} {silica.harm}",
        do=f"{GEAR} {FIRST_AID}",
        decides=f"{alkali.decides}; more on the sheet of cautions",
    )


def _stroke_words(reckoning: Reckoning, card: BatchCard, lettering: Lettering) -> str:
    """What a stroke stands for, counted as the phone's page counts it: tubs where a batch fills several."""
    counted = "Tubs" if card.goes > 1 else "Batches"
    batches = next((f for f in reckoning.figures if f.key == "mortar.batches"), None)
    if batches is None or batches.value is None:
        return f"{counted}, one stroke each"
    told = f"about {lettering.figure(_times(batches, card.goes))} in all"
    apart = f", {card.goes} to a batch, {lettering.figure(batches)} batches" if card.goes > 1 else ""
    return f"{counted}, one stroke each ({told}{apart})"


def _times(figure: Figure, by: int) -> Figure:
    """A count and its spread so many times over."""
    value, low, high = (v * by if isinstance(v, float | int) else v for v in (figure.value, figure.low, figure.high))
    return replace(figure, value=value, low=low, high=high)


def _below(card: BatchCard, mortar: MortarInput, lettering: Lettering) -> Iterator[str]:
    """What stands under the card: the ball, the tub, the fibre, the last batch."""
    yield f"{BALL_TEST} {lettering.tag((BALL,))}"
    yield f"{machine_words(card)} {lettering.tag((PADDLE, MACHINE))}"
    yield from filter(None, (goes_words(card), last_batch_words(mortar), *set_words(mortar)))


def _bucket_words(mortar: MortarInput, lettering: Lettering) -> str:
    if mortar.bucket is None:
        return "one measure for all, level full"
    return f"bucket of {litres(mortar.bucket, lettering)}, level full"


def _mix_row(load: Load, n: int, lettering: Lettering) -> MixRow:
    part = load.part
    bag = f", bag of {lettering.value(part.bag, 'kg')}" if part.bag is not None else ""
    buckets = draw_buckets(load.count, MATERIALS[part.kind], f"bucket-{n}")
    return MixRow(count=lettering.count(load.count), name=part.name, note=FORMS[part.form] + bag, buckets=buckets)


def _facts(card: BatchCard, mortar: MortarInput, lettering: Lettering) -> tuple[Fact, ...]:
    gives = "not known" if card.volume is None else about(card.volume, lettering)
    time, below = pot_words(mortar, lettering)
    return (
        Fact(before="Gives about", value=gives, after=f"water in all {water_words(card, lettering)}"),
        Fact(before="Use within", value=time, after=below),
    )


def curing_sheet(project: Project, reckoning: Reckoning, lettering: Lettering, today: date) -> Sheet:
    """Cover until when, by month and by the forecast; what cold and heat ask for."""
    around = project.site.laying_begins or today
    months = curing_by_month(project.site, project.mortar, around)
    ahead = [reckon_curing(project.site, project.mortar, d.date) for d in project.site.forecast]
    blocks: list[Block] = [
        Paragraph(text=_last_day(reckoning, lettering), manner="lead"),
        *_cover_blocks(months, ahead, lettering),
        Heading(text="Wet"),
        Items(items=_wet(lettering)),
        Heading(text="Warm"),
        _band_table(lettering),
        Paragraph(text=_clock_words(months, ahead, lettering), manner="small"),
        frost_caution(lettering),
    ]
    return Sheet(mark="COVER", title="Keep it wet, keep it warm", slug="cover", blocks=tuple(blocks), manner="large")


def frost_caution(lettering: Lettering) -> CautionBox:
    """Frost on fresh work in few words and in the owner's degrees; it stands in full on the sheet of cautions."""
    frost = caution("frost-on-work")
    least = lettering.value(5.0, "degC")
    words = f"Do not lay under {least} and falling. Cover the work, and measure at the wall, not at the airport."
    return CautionBox(harm=frost.harm, do=words, decides=frost.decides)


def _last_day(reckoning: Reckoning, lettering: Lettering) -> str:
    figure = next((f for f in reckoning.figures if f.key == "season.last_laying_date"), None)
    if figure is None or figure.value is None:
        missing = "" if figure is None else f": {', '.join(figure.missing)} is missing"
        return f"The last day to lay is not known{missing}."
    return f"Lay no mortar after {lettering.figure(figure)} {lettering.tag(figure.sources)}"


def _cover_blocks(months: Sequence[Curing], ahead: Sequence[Curing], lettering: Lettering) -> Iterator[Block]:
    if not months and not ahead:
        yield Paragraph(text="The file states neither months nor a forecast: there is no cover table yet.")
        return
    yield _cover_table(months, ahead, lettering)
    if months:
        yield Paragraph(text=f"Months: laid on the 15th of a usual year; {LIMIT_OF_NORMALS}.", manner="small")


def _cover_table(months: Sequence[Curing], ahead: Sequence[Curing], lettering: Lettering) -> Table:
    columns = (
        Column(title="Laid", share=1.3),
        Column(title="Lay?", share=1.6),
        Column(title="Damp until", share=2.1),
        Column(title="Out of frost", share=1.3),
        Column(title="Night, day", measure=True, share=1.7),
        Column(title=f"Dries {lettering.sign('kg/m2h')}", measure=True, share=1.9),
    )
    rows = [Row(cells=(capped(lettering.month(c.day)), *_cover_cells(c, lettering))) for c in months]
    if ahead:
        rows.append(Row(cells=("By the forecast in the file",), manner="group"))
        rows += [Row(cells=(lettering.day(c.day), *_cover_cells(c, lettering))) for c in ahead]
    return table("Cover until", columns, rows)


def _cover_cells(curing: Curing, lettering: Lettering) -> tuple[str, ...]:
    damp = (curing.damp_from, curing.damp_until)
    weather, rate = curing.weather, curing.evaporation
    air = "–"
    if weather is not None:
        air = f"{lettering.value(round(weather.low), 'degC')}, {lettering.value(round(weather.high), 'degC')}"
    spread = "–"
    if isinstance(rate.low, float) and isinstance(rate.high, float):
        spread = f"{lettering.bare(rate.low, 'kg/m2h')} to {lettering.bare(rate.high, 'kg/m2h')}"
    return (
        curing.lay,
        " to ".join(lettering.day(d) for d in damp) if None not in damp else "–",
        lettering.day(curing.frost_until),
        air,
        spread,
    )


def _wet(lettering: Lettering) -> tuple[str, ...]:
    line = lettering.value(evaporation_limit(), "kg/m2h")
    damp, dries = (
        lettering.tag((Cite("damp-cloth"), Cite("damp-by-maturity"))),
        lettering.tag((Cite("aci-305-memory"),)),
    )
    return (
        f"Damp cloth over the day's work, wetted again before it is pale: three days at the least, seven are better, "
        f"and longer where it is cold {damp}.",
        f"Where a face may dry faster than {line}, shade it and break the wind before you lay {dries}. The formula can "
        f"be 40 % out to either side {lettering.tag((Cite('hover-2020'),))}.",
        "A sheet over the cloth, clear of the wall's foot, so that the air under it stays moist and rain stays off.",
        "Do not hurry the drying with a burner: it takes the water the set needs, and its gas kills in a closed shell.",
    )


def _band_table(lettering: Lettering) -> Table:
    columns = (
        Column(title="Air over", measure=True, share=1.0),
        Column(title=f"While laying, by the air {lettering.tag((Cite('cold-masonry-2004'),))}", share=3.2),
        Column(title="Afterwards, by the day's mean", share=2.8),
    )
    pairs = zip(all_bands("construction"), all_bands("protection"), strict=True)
    rows = [
        (
            "colder" if least is None else lettering.value(least, "degC"),
            lettering.advice(laying),
            lettering.advice(after),
        )
        for (least, laying), (_, after) in pairs
    ]
    return table("Cold weather by bands", columns, rows)


def _clock_words(months: Sequence[Curing], ahead: Sequence[Curing], lettering: Lettering) -> str:
    """Whose clock counts the days to the first freezing, and that this tool lays nothing in the colder bands itself."""
    least = lettering.value(5.0, "degC")
    said = (
        f"The bands are for cement mortar of masons with heat and tents; with lime nothing is laid under {least} "
        f"{lettering.tag((Cite('lime-winter-notes'),))}."
    )
    one = next(iter((*months, *ahead)), None)
    if one is None or one.clock is None:
        return said
    other = ", and no source speaks of this mix" if one.clock.borrowed else ""
    night = next((c for c in months if c.frost_night is not None), None)
    nights = (
        f" Laid in {lettering.month(night.day)}: out of frost until {frost_words(night, lettering)}." if night else ""
    )
    tag = lettering.tag((one.clock.source,))
    return f"{said} Days out of frost are those of {one.clock.stated_for}{other} {tag}.{nights}"
