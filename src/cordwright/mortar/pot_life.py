"""Until when may a batch be used, and when is the last one to be mixed?"""

from cordwright.base import Cite, Figure, Step, table
from cordwright.mortar.inputs import MortarInput

LABEL = "time from wetting until a batch may no longer be used; no water is added once its set has begun"


def usual_pot_life() -> tuple[float, float]:
    """Within what time mortar is commonly used up [h]: the shorter and the longer habit, no promise of a bag.

    Sources: common practice (`pot-life-practice`): 90 minutes to two and a half hours.
    """
    row = table("curing")["pot_life"]
    return float(row["least_h"]), float(row["most_h"])


def pot_life_figure(mortar: MortarInput) -> Figure:
    """The pot life as the owner read it off the bag; unknown otherwise, with the common habit beside it.

    Args:
        mortar: the mix as stated.
    """
    if mortar.pot_life is not None:
        source = Cite("owner", "mix.pot_life")
        step = Step(symbol="pot life", value=mortar.pot_life, unit="h", formula="typed", source=source)
        return Figure(
            key="mortar.pot_life", label=LABEL, value=mortar.pot_life, unit="h", sources=(source,), steps=(step,)
        )
    least, most = usual_pot_life()
    return Figure(
        key="mortar.pot_life",
        label=LABEL,
        value=None,
        unit="h",
        bound="unknown",
        missing=(f"the pot life from the bag (common practice uses mortar within {least:g} to {most:g} h)",),
        sources=(Cite("pot-life-practice", "90 min to 2.5 h"),),
    )


def last_batch(mortar: MortarInput) -> tuple[float, float] | None:
    """The time of day by which the last batch is mixed, so that it is used up before laying stops [h]: early and late.

    Both are the same with the bag's own pot life; without it they are the habit's ends. None without a time to stop.

    Args:
        mortar: the mix as stated.
    """
    if mortar.stop is None:
        return None
    least, most = (mortar.pot_life, mortar.pot_life) if mortar.pot_life is not None else usual_pot_life()
    return max(0.0, mortar.stop - most), max(0.0, mortar.stop - least)


def clock(hours: float) -> str:
    """A time of day in figures, rounded down to five minutes."""
    minutes = int(hours * 60 + 1e-6) // 5 * 5
    return f"{minutes // 60}:{minutes % 60:02d}"
