"""Could I? What does a footprint and a wall thickness come to, before there is any plan?

Ranges only: every value here is to be overtaken by the owner's own plan, stems and buckets.
"""

import math
from dataclasses import dataclass
from typing import Final

from cordwright.base import Caution, Cite, Figure, InputError, Step, caution
from cordwright.mortar import Spread

ASSUMED: Final = Cite("idea-defaults", "first sketch")
HOURS: Final = Cite("laying-hours-memory", "hours per square metre of wall, alone")
BEADS: Final = Cite("cordwood-encyclopaedia", "beads of 3 to 4 in")
SHAPE: Final = Cite("geometry", "areas and perimeters of rectangle, circle and ellipse (Ramanujan's second form)")


WALL_HEIGHT: Final = Spread(2.1, 2.25, 2.4)
CLEAR_OF_POSTS: Final = Spread(0.91, 0.95, 1.0)
WALL_SHARE: Final = Spread(0.75, 0.82, 0.90)
"""What openings leave of the wall."""
WOOD_FRACTION: Final = Spread(0.55, 0.60, 0.65)
JOINT_FRACTION: Final = Spread(0.35, 0.40, 0.45)
BEAD: Final = Spread(0.075, 0.10, 0.10)
LOG_DIAMETER: Final = Spread(0.12, 0.15, 0.20)
MORTAR_WASTE: Final = Spread(1.05, 1.12, 1.15)
HOURS_PER_AREA: Final = Spread(7.0, 8.5, 10.0)
DAYS_PER_WEEK: Final = Spread(2.0, 3.0, 4.0)
HOURS_PER_DAY: Final = Spread(5.0, 6.0, 7.0)
LAYING_WEEKS: Final = Spread(8.0, 12.0, 16.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class IdeaInput:
    """A footprint and a log-end length. Inside sizes [m]; `inside_width` None: a round floor of that diameter.

    `height` bed to wall head [m] and `days_per_week` free for the wall; None takes a spread of common values.

    Raises:
        InputError: a size or a number of days that no building site has.
    """

    inside_length: float
    inside_width: float | None
    log_end_length: float
    height: float | None = None
    days_per_week: float | None = None

    def __post_init__(self) -> None:
        sizes = {
            "floor length": (self.inside_length, 1.0, 40.0),
            "floor width": (self.inside_width, 1.0, 40.0),
            "log-end length": (self.log_end_length, 0.1, 1.0),
            "wall height": (self.height, 0.5, 6.0),
            "days a week": (self.days_per_week, 0.5, 7.0),
        }
        for name, (value, least, most) in sizes.items():
            if value is not None and not least <= value <= most:
                raise InputError(f"{name}: {value:g} is outside {least:g} to {most:g}, for which this sketch is made")


@dataclass(frozen=True, slots=True, kw_only=True)
class Idea:
    """The one-page answer: figures as ranges, and the questions to carry to the authority and the insurer."""

    figures: tuple[Figure, ...]
    authority: tuple[str, ...]
    insurer: tuple[str, ...]
    cautions: tuple[Caution, ...]


def sketch(idea: IdeaInput) -> Idea:
    """Work out what a footprint comes to: wall, logs, mortar, hours and seasons as ranges.

    Args:
        idea: the footprint, the log-end length and what else is known already.
    """
    perimeter = _perimeter(idea)
    net = _stated(idea.height, WALL_HEIGHT) * perimeter * CLEAR_OF_POSTS * WALL_SHARE
    wood = net * WOOD_FRACTION
    joints = net * JOINT_FRACTION
    mortar = joints * _mortar_depth(idea.log_end_length) * MORTAR_WASTE
    end_face = LOG_DIAMETER * LOG_DIAMETER * (math.pi / 4)
    hours = net * HOURS_PER_AREA
    season = LAYING_WEEKS * _stated(idea.days_per_week, DAYS_PER_WEEK) * HOURS_PER_DAY
    return Idea(
        figures=(
            _figure(
                "idea.floor_area",
                "floor inside the walls",
                _floor(idea),
                "m2",
                "cut or rounded corners to full rectangle",
                SHAPE,
            ),
            _figure(
                "idea.wall_area",
                "wall without posts and openings",
                net,
                "m2",
                "centre line x height x clear of posts x (1 - openings)",
                SHAPE,
            ),
            _figure(
                "idea.wood_volume",
                "solid wood in the wall",
                wood * idea.log_end_length,
                "m3",
                "wall x wood share x length",
            ),
            _figure("idea.log_ends", "log ends to cut", wood / end_face, "", "wood face / face of one log end"),
            _figure("idea.mortar_volume", "mortar, waste included", mortar, "m3", "joints x both beads x waste", BEADS),
            _figure("idea.hours", "hours on the walls, working alone", hours, "h", "wall x hours per m2", HOURS),
            _figure(
                "idea.seasons",
                "laying seasons for the walls alone",
                hours / season,
                "seasons",
                "hours / hours in one season",
                HOURS,
            ),
        ),
        authority=AUTHORITY_QUESTIONS,
        insurer=INSURER_QUESTIONS,
        cautions=(caution("permits"), caution("load-path"), caution("honesty")),
    )


def _floor(idea: IdeaInput) -> Spread:
    """Floor area [m2]: a full rectangle at most, an oval between the same walls at least; a round floor is exact."""
    length, width = idea.inside_length, idea.inside_width
    oval = math.pi / 4 * length * (width or length)
    return Spread(oval, length * width, length * width) if width else Spread.exact(oval)


def _perimeter(idea: IdeaInput) -> Spread:
    """Centre-line perimeter [m]: a full rectangle at most, an oval between the same walls at least."""
    t = idea.log_end_length
    length, width = idea.inside_length + t, (idea.inside_width or idea.inside_length) + t
    if idea.inside_width is None:
        return Spread.exact(math.pi * length)
    h = ((length - width) / (length + width)) ** 2
    oval = math.pi / 2 * (length + width) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    rectangle = 2 * (length + width)
    return Spread(oval, rectangle, rectangle)


def _stated(value: float | None, common: Spread) -> Spread:
    return common if value is None else Spread.exact(value)


def _mortar_depth(log_end_length: float) -> Spread:
    """Both beads together; two beads can never be deeper than the wall."""
    return Spread(*(min(2 * depth, log_end_length) for depth in (BEAD.low, BEAD.middle, BEAD.high)))


def _figure(key: str, label: str, spread: Spread, unit: str, formula: str, *sources: Cite) -> Figure:
    low, high = spread.ends
    step = Step(symbol=label, value=spread.middle, unit=unit, formula=formula, source=(*sources, ASSUMED)[0])
    return Figure(
        key=key,
        label=label,
        value=spread.middle,
        unit=unit,
        low=low,
        high=high,
        sources=(*sources, ASSUMED),
        steps=(step,),
    )


AUTHORITY_QUESTIONS: Final = (
    "Up to which floor area and height does a building of this use need only a notice, or nothing at all?",
    "Which clause lets you accept a wall that no standard describes, and what evidence do you want with it?",
    "Must a licensed engineer sign for the frame, the roof and the way the panels are held in it?",
    "Which snow load, wind speed, earthquake zone and frost depth hold here, and on which map or rule do they stand?",
    "How far from the boundary, the road, the forest edge and other buildings must it stand?",
    "May it have a wood stove, who must inspect the flue, and may anybody sleep in it?",
    "Which rules for heat loss, damp and drainage hold for a building of this size and use?",
    "What must you see before it is covered up, and how many days ahead shall I call?",
)
"""What to ask the building authority, in our own words after phase 1 of the job."""

INSURER_QUESTIONS: Final = (
    "Will you insure a wall of log ends and mortar, and in which class of construction do you put it?",
    "Is it covered while I build it, and are stacked logs, scaffold and helpers covered too?",
    "What do you ask of the stove: tested appliance, papers, who fits it, who inspects it, which distances?",
    "What do you ask of my own electrical work, batteries and solar panels?",
    "Does work by the owner's own hands, or a permit still pending, change the cover or a bank's loan?",
)
"""What to ask the insurer, in our own words after phase 1 of the job."""
