"""How does the batch card read, on the wall of the mixing shed and at the terminal?"""

from collections.abc import Iterable, Mapping
from typing import Final

from cordwright.base.units import LITRE, US_GALLON
from cordwright.book.formats import show_number
from cordwright.book.lettering import Lettering, capped
from cordwright.mortar import BatchCard, Load, LoadStep, MortarInput, last_batch, retarders, usual_pot_life
from cordwright.mortar.batch_card import BALL_TEST, FIRST_AID, GEAR, NO_DRUM, NO_WATER_LATER
from cordwright.mortar.pot_life import clock

FORMS: Final = {
    "powder": "dry powder",
    "putty": "putty",
    "bag": "from the bag",
    "damp sand": "damp, as it lies",
    "dry sand": "dry",
    "soaked fibre": "soaked, squeezed by hand",
}


def litres(volume: float, lettering: Lettering) -> str:
    """A bucket's or a batch's volume [m3] in litres or gallons."""
    size, word = (US_GALLON, "gallons") if lettering.units == "imperial" else (LITRE, "litres")
    amount = volume / size
    return f"{show_number(amount, 0 if amount >= 20 or amount == round(amount) else 1, lettering.locale)} {word}"


def about(volume: float, lettering: Lettering) -> str:
    """A volume [m3] that is only roughly known, in litres or gallons: whole ones from ten up."""
    size = US_GALLON if lettering.units == "imperial" else LITRE
    return litres(round(volume / size) * size if volume / size >= 10 else volume, lettering)


def step_words(step: LoadStep, lettering: Lettering) -> str:
    """One step of loading in one line: what, how much, and how long the paddle turns."""
    parts = ", ".join(load_words(x, lettering) for x in step.loads if x.count > 1e-9)
    water = f" (about {about(step.water / 1000, lettering)})" if step.water else ""
    turn = f"; turn {step.seconds:.0f} s" if step.seconds else ""
    words = step.words[:1].upper() + step.words[1:]
    return f"{words}{water}{': ' if parts else ''}{parts}{turn}"


def load_words(load: Load, lettering: Lettering) -> str:
    """So many buckets of a part."""
    return f"{lettering.count(load.count)} {load.part.name}"


def goes_words(card: BatchCard) -> str:
    """What to do when the tub does not hold the whole batch; empty when it does."""
    if card.goes == 1:
        return ""
    return f"The tub does not hold the whole batch: this card is one of {card.goes} tubs to a batch."


def machine_words(card: BatchCard) -> str:
    """The habit of mixers beside the paddle's seconds."""
    least, most = card.machine_minutes
    return f"By paddle on a drill: {NO_DRUM}. Other mixers turn {least:g} to {most:g} minutes."


def water_words(card: BatchCard, lettering: Lettering) -> str:
    """All the water of a tub, with its spread."""
    if card.water is None or card.water_low is None or card.water_high is None:
        return "not known: the bucket's volume is missing"
    low, high = (about(v / 1000, lettering) for v in (card.water_low, card.water_high))
    return f"{low.split(' ')[0]} to {high}"


def pot_words(mortar: MortarInput, lettering: Lettering) -> tuple[str, str]:
    """How long a batch may be used, and the words below: the bag's own time, or the habit and that it is one."""
    least, most = usual_pot_life()
    if mortar.pot_life is not None:
        return f"{lettering.count(mortar.pot_life)} h", f"by the bag; {NO_WATER_LATER[:1].lower()}{NO_WATER_LATER[1:]}"
    habit = f"usual are {lettering.count(least)} to {lettering.count(most)} h, no promise: read the bag"
    return "the bag's time", f"{habit}. {NO_WATER_LATER}"


def last_batch_words(mortar: MortarInput) -> str:
    """Until when the last batch is mixed; empty when no time to stop is stated."""
    times = last_batch(mortar)
    if times is None or mortar.stop is None:
        return ""
    early, late = (clock(t) for t in times)
    when = early if early == late else f"{early} (by the longer habit; {late} by the shorter)"
    return f"Last batch at {when}, to be used up before you stop at {clock(mortar.stop)}."


def set_words(mortar: MortarInput) -> tuple[str, ...]:
    """What in the fibre may delay the set, part by part."""
    proof = "a test pat of it decides"
    return tuple(f"{capped(r.part)} {r.words}: {proof}." for r in retarders(mortar) if r.grade != "little")


def batch_lines(mortar: MortarInput, card: BatchCard, lettering: Lettering) -> Iterable[str]:
    """The batch card for the terminal."""
    bucket = "one measure" if mortar.bucket is None else f"bucket of {litres(mortar.bucket, lettering)}"
    yield f"one tub, {bucket}, level full"
    for load in card.loads:
        yield f"  {lettering.count(load.count):>6}  {load.part.name}, {FORMS[load.part.form]}"
    if card.volume is not None:
        yield f"gives about {about(card.volume, lettering)}; water in all {water_words(card, lettering)}"
    yield from filter(None, (goes_words(card),))
    yield "loading"
    for n, step in enumerate(card.steps, start=1):
        yield f"  {n}  {step_words(step, lettering)}"
    time, below = pot_words(mortar, lettering)
    yield machine_words(card)
    yield BALL_TEST
    yield f"Use within {time}: {below}"
    yield from filter(None, (last_batch_words(mortar), *set_words(mortar)))
    yield f"{GEAR} {FIRST_AID}"


def batch_json(mortar: MortarInput, card: BatchCard) -> Mapping[str, object]:
    """The batch card as plain values, SI and litres of water as kilograms."""
    times = last_batch(mortar)
    return {
        "schema": 1,
        "goes": card.goes,
        "loads": [{"name": x.part.name, "form": x.part.form, "count": x.count} for x in card.loads],
        "steps": [
            {
                "words": s.words,
                "loads": [{"name": x.part.name, "count": x.count} for x in s.loads],
                "water_kg": s.water,
                "seconds": s.seconds,
            }
            for s in card.steps
        ],
        "water_kg": {"low": card.water_low, "value": card.water, "high": card.water_high},
        "volume_m3": card.volume,
        "last_batch": None if times is None else [clock(t) for t in times],
    }
