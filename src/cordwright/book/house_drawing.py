"""Where does the heat go, what does each month ask of the stove, and how cold is the morning? Charts of the house.

Losses are boards, solid to their low end and striped over their spread. Months are stacked boards, one board so many
kilowatt hours. Mornings hang beside a plumb line at the temperature that is wanted.
"""

from collections.abc import Iterator
from math import ceil, floor, log10
from typing import Final

from cordwright.book.drawing import (
    CUT_PEN,
    FINE_PEN,
    HAIR_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Drawing,
    Hatch,
    Path,
    Shape,
    Text,
    box,
    line,
    outline,
)
from cordwright.book.lettering import Lettering, capped
from cordwright.heat.house_results import House, HouseYear
from cordwright.heat.house_shell import Band, Loss

WIDTH: Final = 174.0
MONTHS: Final = ("J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D")
NAME_WIDE, BAR_END = 44.0, 150.0
ROW_HIGH, BAR_HIGH = 8.0, 4.6
KINDS: Final = {
    "walls": "log walls",
    "posts": "posts and ring beam",
    "windows": "windows and roof lights",
    "doors": "doors",
    "roof": "roof",
    "floor": "floor",
    "edges": "edges and frames",
    "air": "air",
}
KWH: Final = 3.6e6


def by_kind(parts: tuple[Loss, ...]) -> tuple[tuple[str, Band], ...]:
    """Losses gathered by kind, the largest first: name and loss (low, middle, high) [W/K]."""
    gathered = []
    for kind, name in KINDS.items():
        bands = [p.loss for p in parts if p.kind == kind]
        if bands:
            low, middle, high = (sum(b[n] for b in bands) for n in range(3))
            gathered.append((name, (low, middle, high)))
    return tuple(sorted(gathered, key=lambda row: -row[1][1]))


def draw_losses(house: House, lettering: Lettering) -> Drawing:
    """Every way out for heat as a board.

    Args:
        house: worked out, with its losses.
        lettering: the owner's units.
    """
    rows = by_kind(house.losses)
    most = max(band[2] for _, band in rows)
    whole = sum(band[1] for _, band in rows)
    height = ROW_HIGH * len(rows) + 4
    shapes: list[Shape] = [line((NAME_WIDE, 1), (NAME_WIDE, height - 2), OUTLINE_PEN, "reference")]
    for n, (name, band) in enumerate(rows):
        foot = height - 4 - ROW_HIGH * (n + 1) + (ROW_HIGH - BAR_HIGH) / 2
        shapes += _loss_bar(name, band, foot, (BAR_END - NAME_WIDE) / most)
        said = f"{lettering.bare(band[1], 'W/K', 1)}  ({100 * band[1] / whole:.0f} %)"
        shapes.append(Text(text=said, at=(BAR_END + 4, foot + 1), size=3.4, anchor="start", face="words"))
    label = "Heat lost by each part for each kelvin, " + ", ".join(f"{n} {b[1]:.1f} W/K" for n, b in rows)
    return Drawing(name="losses", label=label, width=WIDTH, height=height, shapes=tuple(shapes))


def _loss_bar(name: str, band: Band, foot: float, scale: float) -> Iterator[Shape]:
    low, middle, high = (NAME_WIDE + x * scale for x in band)
    yield Text(text=capped(name), at=(NAME_WIDE - 2.5, foot + 1), size=3.6, anchor="end")
    body = box((NAME_WIDE, foot), max(0.0, low - NAME_WIDE), BAR_HIGH)
    yield outline(body, 0, "log", "white")
    yield Hatch(rings=(body,), material="timber")
    yield outline(box((low, foot), high - low, BAR_HIGH), THIN_PEN, "log", "white")
    yield from (
        line((low + 1.6 * k, foot), (low + 1.6 * k, foot + BAR_HIGH), FINE_PEN, "log")
        for k in range(1, floor((high - low) / 1.6) + 1)
    )
    yield outline(box((NAME_WIDE, foot), high - NAME_WIDE, BAR_HIGH), OUTLINE_PEN, "log")
    yield line((middle, foot - 0.9), (middle, foot + BAR_HIGH + 0.9), 1.0, "log")


CHART_HIGH: Final = 56.0
FOOT: Final = 12.0
LEFT: Final = 14.0
COLUMN: Final = (WIDTH - LEFT) / 12


def order_of(south: bool) -> tuple[int, ...]:
    """Months in the order of the heating year: from July north of the equator, from January south of it."""
    first = 0 if south else 6
    return tuple((first + n) % 12 for n in range(12))


def board_of(most: float) -> float:
    """A round size for one board, so that the tallest month has ten to twenty-five of them [kWh]."""
    rough = most / 20
    power = 10 ** floor(log10(rough))
    return float(next(step * power for step in (1, 2, 5, 10) if step * power >= rough))


def draw_months(year: HouseYear, lettering: Lettering, *, south: bool) -> Drawing:
    """What the stove gives in each month as stacked boards, and beside it the sun that came in.

    Args:
        year: by its hours.
        lettering: the owner's language.
        south: of the equator.
    """
    fire, sun = [x / KWH for x in year.fire], [x / KWH for x in year.sun]
    most = max(*fire, *sun, 1.0)
    board = board_of(most)
    step = (CHART_HIGH - 8) / ceil(most / board)
    shapes: list[Shape] = []
    for place, month in enumerate(order_of(south)):
        x = LEFT + place * COLUMN
        shapes += _boards(x + 1.2, fire[month], board, step)
        shapes += _sun_bar(x + 8.6, sun[month] / board * step)
        number = lettering.bare(fire[month], "kWh", 0) if fire[month] >= 0.5 else "–"
        top = FOOT + ceil(fire[month] / board - 1e-9) * step
        shapes.append(Text(text=number, at=(x + 4.6, top + 1.4), size=3.1, face="measures", halo=True))
        shapes.append(Text(text=MONTHS[month], at=(x + 6, FOOT - 5), size=3.8, bold=True))
    shapes.append(line((LEFT - 2, FOOT), (WIDTH, FOOT), CUT_PEN, "reference"))
    foot = f"boards: heat of the stove, one board {board:g} kWh; open: sun through the windows, to the same scale"
    shapes.append(Text(text=foot, at=(LEFT, 1.2), size=3.3, anchor="start"))
    label = "Heat of the stove by month: " + ", ".join(f"{MONTHS[m]} {fire[m]:.0f} kWh" for m in order_of(south))
    return Drawing(name="stove-months", label=label, width=WIDTH, height=FOOT + CHART_HIGH, shapes=tuple(shapes))


def _boards(x: float, amount: float, board: float, step: float) -> Iterator[Shape]:
    whole, rest = divmod(amount / board, 1.0)
    for n in range(int(whole) + (1 if rest > 0.02 else 0)):
        high = step * (1.0 if n < whole else rest)
        ring = box((x, FOOT + n * step), 6.8, high)
        yield outline(ring, 0, "log", "white")
        yield Hatch(rings=(ring,), material="timber")
        yield outline(ring, THIN_PEN, "log")


def _sun_bar(x: float, high: float) -> Iterator[Shape]:
    if high > 0.2:
        yield outline(box((x, FOOT), 3.0, high), THIN_PEN, "reference", "white")


LOW_END, HIGH_END = 0.0, 26.0
MORNING_HIGH: Final = 40.0


def draw_mornings(year: HouseYear, wanted: float, lettering: Lettering, *, south: bool) -> Drawing:
    """How warm it feels on a winter morning before the fire, month by month, beside what is wanted.

    Args:
        year: by its hours.
        wanted: temperature while in use [degC].
        lettering: the owner's language.
        south: of the equator.
    """
    known = [b for b in year.mornings_by_month if b is not None]
    low_end = min(LOW_END, *(2 * floor(b[0] / 2) for b in known)) if known else LOW_END

    def y(t: float) -> float:
        return FOOT + (t - low_end) / (HIGH_END - low_end) * MORNING_HIGH

    shapes: list[Shape] = []
    for t in range(int(low_end), int(HIGH_END) + 1, 5):
        shapes.append(line((LEFT - 2, y(t)), (WIDTH, y(t)), HAIR_PEN, "reference"))
        mark = lettering.value(float(t), "degC")
        shapes.append(Text(text=mark, at=(LEFT - 3, y(t) - 1.1), size=3.1, anchor="end"))
    for place, month in enumerate(order_of(south)):
        x = LEFT + (place + 0.5) * COLUMN
        shapes.append(Text(text=MONTHS[month], at=(x, FOOT - 6), size=3.8, bold=True))
        band = year.mornings_by_month[month]
        if band is not None:
            shapes += _morning(x, (y(band[0]), y(band[1]), y(band[2])), lettering.value(band[1], "degC"))
    shapes.append(line((LEFT - 2, y(wanted)), (WIDTH, y(wanted)), 0.6, "reference"))
    shapes.append(
        Text(text=f"wanted, {lettering.value(wanted, 'degC')}", at=(LEFT + 1, y(wanted) + 1.6), size=3.5,
             anchor="start", bold=True, halo=True)
    )  # fmt: skip
    label = "Felt in the morning before the fire: " + ", ".join(
        f"{MONTHS[m]} {b[1]:.0f} °C" for m, b in enumerate(year.mornings_by_month) if b is not None
    )
    return Drawing(name="mornings", label=label, width=WIDTH, height=FOOT + MORNING_HIGH + 4, shapes=tuple(shapes))


def _morning(x: float, band: Band, said: str) -> Iterator[Shape]:
    low, middle, high = band
    left, wide = x - 2.5, 5.0
    yield outline(box((left, low), wide, high - low), THIN_PEN, "log", "white")
    yield from (
        line((left, low + 1.6 * n), (left + wide, low + 1.6 * n), FINE_PEN, "log")
        for n in range(1, floor((high - low) / 1.6) + 1)
    )
    yield line((left - 1.2, middle), (left + wide + 1.2, middle), 1.0, "log")
    yield Text(text=said, at=(x, low - 4.2), size=3.0, halo=True)


def week_of(year: HouseYear, hours: int = 7 * 24) -> int:
    """First hour of the week in which the fire gives most."""
    fire = year.run.fire
    sums = [float(fire[h : h + hours].sum()) for h in range(0, fire.size - hours, 24)]
    return 24 * max(range(len(sums)), key=sums.__getitem__)


def draw_week(year: HouseYear, outside: tuple[float, ...], lettering: Lettering) -> Drawing:
    """The week in which most is burnt, hour by hour: felt indoors, outdoors, and the fires.

    Args:
        year: by its hours.
        outside: temperature of each hour of that week [degC].
        lettering: the owner's language.
    """
    first = week_of(year)
    felt = year.run.felt[first : first + len(outside)]
    fire = year.run.fire[first : first + len(outside)]
    low, high = 5 * floor(min(*outside, *felt) / 5), 5 * ceil(max(*outside, *felt) / 5)
    high_room = 46.0

    def point(n: int, t: float) -> tuple[float, float]:
        return LEFT + (n + 0.5) / len(outside) * (WIDTH - LEFT), FOOT + 6 + (t - low) / (high - low) * high_room

    shapes: list[Shape] = []
    for t in range(int(low), int(high) + 1, 5):
        y = point(0, t)[1]
        shapes.append(line((LEFT, y), (WIDTH, y), HAIR_PEN, "reference"))
        shapes.append(Text(text=lettering.value(float(t), "degC"), at=(LEFT - 1.5, y - 1.1), size=3.0, anchor="end"))
    for day in range(len(outside) // 24 + 1):
        x = LEFT + 24 * day / len(outside) * (WIDTH - LEFT)
        shapes.append(line((x, FOOT), (x, FOOT + 6 + high_room), FINE_PEN, "reference", (0.8, 1.2)))
    most = float(fire.max()) or 1.0
    for n, power in enumerate(fire):
        if power > 0:
            x = point(n, low)[0]
            wide = (WIDTH - LEFT) / len(outside)
            shapes.append(outline(box((x - wide / 2, FOOT), wide, 5 * power / most), 0, "log", "black"))
    shapes.append(line((LEFT, FOOT), (WIDTH, FOOT), OUTLINE_PEN, "reference"))
    shapes.append(Path(points=tuple(point(n, t) for n, t in enumerate(outside)), pen=0.4, dash=(1.2, 0.8)))
    shapes.append(Path(points=tuple(point(n, float(t)) for n, t in enumerate(felt)), pen=1.1))
    shapes += [
        Text(text="thick: felt indoors; dashed: outdoors; black at the foot: the fires; a day between two dotted lines",
             at=(LEFT, 4), size=3.3, anchor="start"),
    ]  # fmt: skip
    return Drawing(
        name="stove-week", label="The week in which most is burnt: felt indoors, outdoors and the fires, hour by hour",
        width=WIDTH, height=FOOT + 6 + high_room + 4, shapes=tuple(shapes),
    )  # fmt: skip
