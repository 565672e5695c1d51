"""What does the whole wall take, and what is still open until the log ends are laid out?"""

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Caution, Cite, Figure, Step, caution
from cordwright.mortar import Mix, MortarInput, Spread
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Plan
from cordwright.wall.inputs import Fill, WallInput
from cordwright.wall.joints import curved_checks, curved_joints
from cordwright.wall.nails import nail_keys, nails_figure
from cordwright.wall.needs import FRACTION, mortar_needs
from cordwright.wall.quantities import WallQuantities, wall_quantities
from cordwright.wall.results import Wall

HIGH_WALL: Final = 2.0
"""Above this height [m] the caution about work at height is shown (row 19 of the cautions)."""

LAYOUT: Final = ("a layout of the log ends",)


def reckon_wall(  # noqa: PLR0917 (what the earlier stages hand on, in the order of the job)
    wall: WallInput,
    plan: Plan,
    section: WallSection,
    mix: Mix | None,
    mortar: MortarInput,
    diameters: NDArray[np.float64],
) -> Wall:
    """Work out the wall at the planned wood fraction.

    Args:
        wall: joints, planned wood fraction and fill as stated.
        plan: the plan worked out.
        section: the wall's section.
        mix: the mix worked out, None when none is stated: volumes stay known, masses not.
        mortar: the mix as stated, for its waste.
        diameters: of the log ends at laying [m], shape (n,); empty when no stock is stated.

    Sources: closed form, areas on the centre line times depth; see `quantities`.
    """
    quantities = wall_quantities(wall, plan, section)
    curved = curved_joints(plan, section, wall.joints, diameters)
    volume = quantities.total("mortar_volume") * (1.0 + mortar.waste)
    nails = nail_keys(plan, wall.joints, curved, quantities.middle)
    return Wall(
        panels=quantities.middle,
        curved_joints=curved,
        planned=True,
        nail_keys=nails,
        figures=(
            *_planned(wall),
            *_in_place(quantities, section),
            _fill_volume(quantities, wall.fill, section),
            _fill_lime(quantities, wall.fill),
            _mortar_volume(quantities, section, mortar),
            *mortar_needs(volume, mix),
            *((nails_figure(nails),) if nails else ()),
        ),
        checks=curved_checks(plan, wall.joints, curved),
        cautions=tuple(_cautions(wall, plan)),
    )


def _planned(wall: WallInput) -> Iterator[Figure]:
    """The wood fraction as planned, and what only a layout can tell."""
    low, high = Spread(wall.wood_fraction_low, wall.wood_fraction, wall.wood_fraction_high).ends
    yield Figure(
        key="wall.wood_fraction",
        label="wood fraction of the face, planned",
        value=wall.wood_fraction,
        low=low,
        high=high,
        unit="1",
        sources=(FRACTION,),
        steps=(Step(symbol="planned", value=wall.wood_fraction, unit="1", formula="typed", source=FRACTION),),
    )
    yield _unlaid("wall.joint", "joint of the layout", "m")
    yield _unlaid("wall.coverage", "share of the net wall the layout closes", "1")


def _unlaid(key: str, label: str, unit: str) -> Figure:
    sources = (Cite("owner", "wall"),)
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=LAYOUT, sources=sources)


def _figure(
    key: str, label: str, amount: Spread, unit: str, *, steps: tuple[Step, ...], cites: tuple[Cite, ...] = ()
) -> Figure:
    low, high = amount.ends
    sources = (Cite("geometry", "area on the centre line times depth"), FRACTION, *cites)
    return Figure(
        key=key, label=label, value=amount.middle, low=low, high=high, unit=unit, sources=sources, steps=steps
    )


def _in_place(quantities: WallQuantities, section: WallSection) -> Iterator[Figure]:
    joint, wood = quantities.total("joint_area"), quantities.total("wood_area")
    masonry = Step(
        symbol="masonry face",
        value=quantities.total("masonry_area").middle,
        unit="m2",
        formula="net wall less sleeves and bottle ends, on the centre line",
    )
    yield _figure("wall.joint_area", "face of the joints", joint, "m2", steps=(masonry,))
    steps = (
        Step(symbol="wood face", value=wood.middle, unit="m2", formula="wood fraction x masonry face"),
        Step(symbol="log-end length", value=section.log_end_length, unit="m", formula="typed"),
    )
    volume = quantities.total("wood_volume")
    yield _figure("wall.wood_volume", "solid wood in the wall", volume, "m3", steps=(masonry, *steps))
    mortar = quantities.total("mortar_volume")
    yield _figure("wall.mortar_in_place", "mortar in place", mortar, "m3", steps=_mortar_steps(joint.middle, section))


def _mortar_steps(joint_area: float, section: WallSection) -> tuple[Step, ...]:
    how = "beads meet: the whole thickness" if section.solid else "two beads"
    return (
        Step(symbol="face of the joints", value=joint_area, unit="m2", formula="(1 - wood fraction) x masonry face"),
        Step(symbol="depth of mortar", value=section.mortar_depth, unit="m", formula=how),
    )


def _mortar_volume(quantities: WallQuantities, section: WallSection, mortar: MortarInput) -> Figure:
    volume = quantities.total("mortar_volume") * (1.0 + mortar.waste)
    waste = Step(symbol="waste", value=mortar.waste, unit="1", formula="joint face x depth x (1 + waste)")
    steps = (*_mortar_steps(quantities.total("joint_area").middle, section), waste)
    cites = (Cite("owner", "mix.waste"),)
    return _figure("mortar.volume", "mortar to mix, waste included", volume, "m3", steps=steps, cites=cites)


def _fill_volume(quantities: WallQuantities, fill: Fill, section: WallSection) -> Figure:
    volume = quantities.total("fill_volume") * (1.0 + fill.waste)
    steps = (
        Step(symbol="face of the joints", value=quantities.total("joint_area").middle, unit="m2"),
        Step(symbol="cavity", value=section.cavity, unit="m", formula="thickness - two beads"),
        Step(symbol="waste", value=fill.waste, unit="1", formula="joint face x cavity x (1 + waste)"),
    )
    cites = (Cite("owner", "wall.fill.waste"),)
    return _figure("wall.fill_volume", "loose fill, waste included", volume, "m3", steps=steps, cites=cites)


def _fill_lime(quantities: WallQuantities, fill: Fill) -> Figure:
    """Lime mixed into the fill: a share of the fill's own mass, so its density must be known."""
    key, label = "wall.fill_lime", "lime mixed into the fill"
    stated = {"the fill's loose density": fill.density, "the fill's share of lime": fill.lime_share}
    if fill.density is None or fill.lime_share is None:
        missing = tuple(what for what, value in stated.items() if value is None)
        cites = (Cite("owner", "wall.fill"),)
        return Figure(key=key, label=label, value=None, unit="kg", bound="unknown", missing=missing, sources=cites)
    lime = quantities.total("fill_volume") * ((1.0 + fill.waste) * fill.density * fill.lime_share)
    steps = (
        Step(symbol="loose density of the fill", value=fill.density, unit="kg/m3", formula="typed"),
        Step(symbol="share of lime by mass", value=fill.lime_share, unit="1", formula="fill volume x density x share"),
    )
    return _figure(key, label, lime, "kg", steps=steps, cites=(Cite("owner", "wall.fill"),))


def _cautions(wall: WallInput, plan: Plan) -> Iterator[Caution]:
    for key in ("load-path", "earthquake", "mould-rot", "frost-on-work"):
        yield caution(key)
    if wall.fill.material:
        yield caution("fill-fire")
    if max((v for p in plan.panels for _, v in p.outline), default=0.0) > HIGH_WALL:
        yield caution("heights")
