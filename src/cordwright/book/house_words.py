"""How warm is the house, in a sentence first and then in rows? For the command line and for the book alike."""

from typing import Final

from cordwright.base import Figure
from cordwright.book.formats import NB, show_missing, show_number
from cordwright.book.lettering import Lettering, capped
from cordwright.heat.house_results import House
from cordwright.reckon import Reckoning

MODEL_WORDS: Final = (
    "A model, for review: one room, walls by eight slow shapes each, an hour cut in four. The stove is lit by a "
    "person who lays in what the hours to the next fire will ask and watches no dial, so that the room "
    "swings as real rooms do.",
    "Not reckoned: trees and hills that shade, curtains and shutters, wet fill, people coming and going, cooking.",
)
BOOK_WORDS: Final = (
    "Stove, flue, hearth and air inlet are for a licensed installer and the chimney sweep, by the stove's papers and "
    "the local code; an oversized stove that idles tars its chimney. The sizes here are for a talk, no design."
)


def value_of(house: House, key: str) -> Figure | None:
    """A figure of the house, None when it has no value or is not there."""
    found = next((f for f in house.figures if f.key == key), None)
    return found if found is not None and found.value is not None else None


def answer(reckoning: Reckoning, lettering: Lettering) -> tuple[str, ...]:
    """The answer in sentences: loss, stove, wood, morning; or what is missing."""
    house = reckoning.warmth.house
    if not house.figures:
        return ("Nothing is stated about heating: write how warm the room is wanted under [heat].",)
    if house.missing:
        return (f"What the building loses is {show_missing(house.missing)}.",)
    return tuple(
        s for s in (*_size_words(house, lettering), _night_words(house, lettering), _empty_words(house, lettering)) if s
    )


def _size_words(house: House, lettering: Lettering) -> list[str]:
    loss = value_of(house, "heat.loss_coefficient")
    low, high = value_of(house, "heat.stove_low"), value_of(house, "heat.stove_high")
    wood = value_of(house, "heat.firewood_stacked")
    said = [f"The building loses {lettering.figure(loss)} for each degree between the room and the air outdoors."]  # type: ignore[arg-type]
    if low is not None and high is not None:
        said.append(
            f"On the coldest days that is {kilowatts(low, lettering)}: a stove of that burning day and night, or of "
            f"{kilowatts(high, lettering)} burning while it is tended (for review)."
        )
    if wood is not None:
        said.append(f"A year takes {lettering.figure(wood)} of stacked wood.")
    if house.year is not None:
        said += _share_words(house, lettering)
    return said


def _share_words(house: House, lettering: Lettering) -> list[str]:
    """What the days left cold cost: the heat by the hours beside that by degree days at the share of days in use."""
    season = value_of(house, "heat.season_energy")
    by_days = None if season is None else next((s.value for s in season.steps if s.symbol == "by degree days"), None)
    if season is None or by_days is None or not isinstance(season.value, float) or season.value < 1.1 * by_days:
        return []
    return [
        f"That is {lettering.value(season.value, 'kWh')} of heat; the share of days in use alone would ask for "
        f"{lettering.value(by_days, 'kWh')}, but walls that have grown cold must be warmed through again."
    ]


def kilowatts(figure: Figure, lettering: Lettering) -> str:
    """A power in kilowatts with one decimal: a stove's plate shows no more."""
    assert isinstance(figure.value, float)
    return f"{show_number(figure.value / 1000, 1, lettering.locale)}{NB}kW"


def _empty_words(house: House, lettering: Lettering) -> str:
    """How cold the room grows while nobody is there."""
    if house.year is None:
        return ""
    least = float(house.year.run.felt.min())
    if least > 5:
        return ""
    harm = "water and plants freeze there" if least <= 0 else "water in its coldest corners may freeze"
    return f"Left cold on the days it is not in use, the room falls to {lettering.value(least, 'degC')}: {harm}."


def _night_words(house: House, lettering: Lettering) -> str:
    morning, drop = value_of(house, "heat.morning_temperature"), value_of(house, "heat.night_drop")
    if morning is None or drop is None:
        unknown = next((f for f in house.figures if f.key == "heat.morning_temperature"), None)
        return f"How cold a winter morning feels is {show_missing(unknown.missing)}." if unknown else ""
    return (
        f"A winter morning before the fire feels {lettering.middle(morning)} ({lettering.spread(morning)} nine days in "
        f"ten); over the night the room cools by {lettering.middle(drop)}."
    )


def change_rows(house: House, lettering: Lettering) -> list[tuple[str, ...]]:
    """What single changes would do: loss after, share saved, stacked wood saved."""
    rows: list[tuple[str, ...]] = []
    for change in house.changes:
        share = f"{'less' if change.share > 0 else 'more'} by {abs(100 * change.share):.0f} %"
        wood = "–" if change.wood_saved is None else _saved(change.wood_saved, lettering)
        said = change.words.format(lettering.value(change.amount, change.unit))
        rows.append((capped(said), lettering.value(change.after, "W/K"), share, wood))
    return rows


def _saved(wood: float, lettering: Lettering) -> str:
    words = lettering.value(abs(wood), "m3")
    return words if wood >= 0 else f"{words} more"


def loss_rows(house: House, lettering: Lettering) -> list[tuple[str, ...]]:
    """Every way out for heat: extent, loss of each unit, loss, how it is known."""
    rows: list[tuple[str, ...]] = []
    for part in house.losses:
        low, middle, high = part.loss
        spread = f" ({lettering.bare(low, 'W/K', 1)} to {lettering.bare(high, 'W/K', 1)})"
        rows.append(
            (
                capped(part.name),
                lettering.value(part.amount, part.unit),
                f"{lettering.bare(middle, 'W/K', 1)}{spread}",
                capped(part.how),
            )
        )
    return rows
