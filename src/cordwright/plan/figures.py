"""Which figures of the plan may the owner read, and how does each come about?"""

import math
from collections.abc import Iterable, Iterator, Sequence

from cordwright.base import Cite, Figure, Step
from cordwright.plan import polygon as polygons
from cordwright.plan.inputs import OvalOutline, PlanInput, RoundOutline
from cordwright.plan.outline import Face, Shape
from cordwright.plan.oval import Oval
from cordwright.plan.polygon import Polygon
from cordwright.plan.results import Panel
from cordwright.plan.roof import ridge_run, slope_area
from cordwright.plan.setting_out import letter
from cordwright.plan.stretches import side_names

PLANE = Cite("closed-form-plane", "polygon, circle, ellipse")
PARALLEL = Cite("closed-form-parallel-curves", "offset d outwards")
ROOF = Cite("closed-form-roof", "slopes of one pitch")
COUNTED = Cite("choice-areas", "clear length on the centre line x height")
OWNER = Cite("owner", "plan")
BLOCKS = Cite("practice-built-up-corner", "blocks as wide as the wall, crossed in alternate courses")
TRAPEZOID = Cite("trefethen-weideman-2014", "periodic trapezoid rule")


def outline_figures(plan: PlanInput, shape: Shape, inner: Face, centre: Face, outer: Face) -> Iterator[Figure]:
    """Give lengths and areas of the wall's faces."""
    inside = tuple(_inside_steps(plan, shape))
    sources: tuple[Cite, ...] = (
        OWNER,
        PLANE,
        PARALLEL,
        *((TRAPEZOID,) if isinstance(plan.outline, OvalOutline) else ()),
    )
    yield _figure(
        "plan.inner_area", "floor area within the inside wall face", inner.area, "m2", steps=inside, sources=sources
    )
    around = (
        *_side_steps(plan, shape),
        _step("perimeter of the inside face", inner.length, "m", _length_formula(shape, plan)),
    )
    yield _figure(
        "plan.inner_perimeter", "length around the inside wall face", inner.length, "m", steps=around, sources=sources
    )
    t = plan.section.thickness
    for key, label, found, d in (
        ("plan.centre_perimeter", "length around the wall's centre line", centre.length, t / 2),
        ("plan.outer_perimeter", "length around the outside wall face", outer.length, t),
    ):
        grown = (
            _step("inside perimeter L", inner.length, "m"),
            _offset(d),
            _step(label, found, "m", _grown_length(shape)),
        )
        yield _figure(key, label, found, "m", steps=grown, sources=sources)
    label = "area within the outside wall face"
    steps = (
        _step("inside area A", inner.area, "m2"),
        _step("inside perimeter L", inner.length, "m"),
        _offset(t),
        _step(label, outer.area, "m2", _grown_area(shape, t)),
    )
    yield _figure("plan.outer_area", label, outer.area, "m2", steps=steps, sources=sources)
    if isinstance(shape, Polygon):
        yield _angles(shape)


def _figure(key: str, label: str, value: float, unit: str, *, steps: Iterable[Step], sources: Sequence[Cite]) -> Figure:
    return Figure(key=key, label=label, value=value, unit=unit, steps=tuple(steps), sources=tuple(sources))


def _step(symbol: str, value: float | None, unit: str, formula: str = "", source: Cite | None = PLANE) -> Step:
    return Step(symbol=symbol, value=value, unit=unit, formula=formula, source=source)


def _offset(distance: float) -> Step:
    return _step("offset d from the inside face", distance, "m", "", OWNER)


def _inside_steps(plan: PlanInput, shape: Shape) -> Iterator[Step]:
    outline = plan.outline
    if isinstance(outline, RoundOutline):
        yield _step("inside diameter D", outline.inside_diameter, "m", "", OWNER)
        yield _step("area", math.pi * outline.inside_diameter**2 / 4, "m2", "pi D2 / 4")
    elif isinstance(outline, OvalOutline):
        yield _step("inside length a", outline.inside_length, "m", "", OWNER)
        yield _step("inside width b", outline.inside_width, "m", "", OWNER)
        yield _step("area", math.pi * outline.inside_length * outline.inside_width / 4, "m2", "pi a b / 4")
    elif isinstance(shape, Polygon):
        for n, (x, y) in enumerate(outline.corners):
            yield _step(f"corner {letter(n)}, x", x, "m", "", OWNER)
            yield _step(f"corner {letter(n)}, y", y, "m", "", OWNER)
        yield _step(
            "area", polygons.area(shape, 0.0), "m2", "half the sum of x_i y_(i+1) - x_(i+1) y_i" + _rounded(shape)
        )


def _rounded(shape: Polygon) -> str:
    return ", less r2 (tan(turn / 2) - turn / 2) at each rounded corner" if shape.radius > 0 else ""


def _side_steps(plan: PlanInput, shape: Shape) -> Iterator[Step]:
    if isinstance(shape, Oval):
        yield _step("half axis along plan x", shape.half_x, "m", "", OWNER)
        yield _step("half axis along plan y", shape.half_y, "m", "", OWNER)
        return
    runs, arcs = polygons.straight_lengths(shape, 0.0), polygons.arc_radii(shape, 0.0) * abs(shape.turns)
    for n, name in enumerate(side_names(plan, shape)):
        yield _step(f"side {name}", float(runs[n]), "m", "between its corners or tangent points")
        if shape.bends[n]:
            yield _step(f"arc at corner {letter(n)}", float(arcs[n]), "m", "radius x turn")


def _length_formula(shape: Shape, plan: PlanInput) -> str:
    if isinstance(shape, Polygon):
        return "sum of the sides" + (" and arcs" if shape.radius > 0 else "")
    if isinstance(plan.outline, RoundOutline):
        return "2 pi r"
    return "2 pi x mean of sqrt(a2 cos2 phi + b2 sin2 phi) over even steps of phi"


def _grown_length(shape: Shape) -> str:
    sharp = isinstance(shape, Polygon) and shape.radius == 0
    return "L + 2 d x sum of tan(turn / 2)" if sharp else "L + 2 pi d"


def _grown_area(shape: Shape, distance: float) -> str:
    if isinstance(shape, Polygon) and shape.radius == 0:
        return "A + L d + d2 x sum of tan(turn / 2)"
    if isinstance(shape, Polygon) and shape.radius < distance and (shape.bends < 0).any():
        return "mitred outline less r2 (tan(turn / 2) - turn / 2) at each corner still rounded"
    return "A + L d + pi d2"


def _angles(shape: Polygon) -> Figure:
    """Give the sum of the interior angles, with each corner's own: the last check of a string plan."""
    corners = (
        _step(f"interior angle at {letter(n)}", 180 - math.degrees(turn), "deg", "180 - turn")
        for n, turn in enumerate(shape.turns.tolist())
    )
    total = 180.0 * (len(shape.turns) - 2)
    steps = (*corners, _step("sum of interior angles", total, "deg", "180 x (corners - 2)"))
    return _figure(
        "plan.interior_angles", "sum of the interior angles at the corners", total, "deg", steps=steps, sources=(PLANE,)
    )


def wall_figures(panels: Sequence[Panel]) -> Iterator[Figure]:
    """Give the wall's areas; each is the sum of the panels' own, exactly."""
    gross = tuple(_step(f"panel {p.name}", p.gross_area, "m2", _face_formula(p), COUNTED) for p in panels)
    yield _total("plan.gross_wall_area", "wall area before openings", [p.gross_area for p in panels], gross)
    holes = tuple(
        _step(f"{o.opening.id} in panel {p.name}", o.area, "m2", _hole_formula(o.opening.shape))
        for p in panels
        for o in p.openings
    )
    yield _total("plan.openings_area", "area of the openings' frames", [p.openings_area for p in panels], holes)
    net = tuple(_step(f"panel {p.name}", p.net_area, "m2", "gross - openings", COUNTED) for p in panels)
    yield _total("plan.net_wall_area", "wall area without openings", [p.net_area for p in panels], net)
    ends = tuple(_step(f"panel {p.name}", p.obstacles_area, "m2", "pi d2 / 4 of each") for p in panels if p.obstacles)
    label = "face of sleeves and bottle ends, not deducted from the net area"
    yield _total("plan.obstacles_area", label, [p.obstacles_area for p in panels], ends)


def _total(key: str, label: str, areas: Sequence[float], steps: tuple[Step, ...]) -> Figure:
    total = math.fsum(areas)
    working = (*steps, _step(label, total, "m2", "sum of the panels"))
    return _figure(key, label, total, "m2", steps=working, sources=(OWNER, PLANE, COUNTED))


def _face_formula(panel: Panel) -> str:
    if panel.blocks:
        return "clear length x height, or trapezia, less the corner blocks that stand in it"
    heights = {v for _, v in panel.outline[2:]}
    level = f"{panel.centre_length:.3f} m x {panel.outline[-1][1]:.3f} m"
    return level if len(heights) == 1 else "trapezia between the bed and the wall head"


def _hole_formula(shape: str) -> str:
    return {
        "rectangle": "width x height",
        "round": "pi d2 / 4",
        "arched": "width x (height - rise) + segment of a circle",
    }[shape]


def block_figures(plan: PlanInput, panels: Sequence[Panel]) -> Iterator[Figure]:
    """Count the blocks of built-up corners and give the wood to order for them; none where posts stand.

    Blocks cut to the wall head are counted and ordered whole. The mortar between them is not in any quantity.
    """
    if not any(panel.blocks for panel in panels):
        return
    length, high = plan.corners.block_length or 0.0, plan.corners.block_height or 0.0
    counted = [(panel.name, len(panel.blocks)) for panel in panels if panel.blocks]
    count = sum(number for _, number in counted)
    steps = tuple(
        _step(f"along panel {name}", float(number), "1", "every other course", BLOCKS) for name, number in counted
    )
    sources = (OWNER, BLOCKS)
    yield _figure(
        "plan.corner_blocks", "blocks of the built-up corners", float(count), "1", steps=steps, sources=sources
    )
    volume = count * length * high * plan.section.thickness
    sizes = (
        _step("block length", length, "m", "", OWNER),
        _step("block height", high, "m", "", OWNER),
        _step("block width", plan.section.thickness, "m", "the wall's thickness", BLOCKS),
        _step("wood", volume, "m3", "count x length x height x width, cut blocks whole"),
    )
    label = "wood for the blocks of the built-up corners, before waste"
    yield _figure("plan.corner_block_volume", label, volume, "m3", steps=sizes, sources=(*sources, PLANE))


def roof_figures(plan: PlanInput, shape: Shape, eaves: Face | None) -> Iterator[Figure]:
    """Give the roof's areas and its ridge above the eaves; unknown as long as no roof is stated."""
    labels = {
        "roof.plan_area": ("area within the eaves on plan", "m2"),
        "roof.slope_area": ("area of the roof slopes", "m2"),
        "roof.ridge_height": ("height of the ridge above the eaves", "m"),
    }
    if plan.roof is None or eaves is None:
        for key, (label, unit) in labels.items():
            yield _unknown(key, label, unit, "roof (form, pitch and overhang)")
        return
    pitch, overhang = plan.roof.pitch, plan.roof.overhang
    distance = plan.section.thickness + overhang
    stated = (_step("pitch", math.degrees(pitch), "deg", "", OWNER), _step("overhang", overhang, "m", "", OWNER))
    label, unit = labels["roof.plan_area"]
    area = _step(label, eaves.area, "m2", _grown_area(shape, distance), PARALLEL)
    steps = (stated[1], _step("eaves from the inside face d", distance, "m", "wall thickness + overhang"), area)
    yield _figure("roof.plan_area", label, eaves.area, unit, steps=steps, sources=(OWNER, PLANE, PARALLEL))
    label, unit = labels["roof.slope_area"]
    slope = slope_area(eaves.area, pitch)
    steps = (stated[0], area, _step(label, slope, "m2", "plan area / cos pitch", ROOF))
    yield _figure("roof.slope_area", label, slope, unit, steps=steps, sources=(OWNER, ROOF))
    yield _ridge(plan, shape, distance, *labels["roof.ridge_height"])


def _unknown(key: str, label: str, unit: str, missing: str) -> Figure:
    sources = (OWNER, ROOF)
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=(missing,), sources=sources)


def _ridge(plan: PlanInput, shape: Shape, eaves: float, label: str, unit: str) -> Figure:
    assert plan.roof is not None
    run, how = ridge_run(shape, plan.roof, eaves)
    if run is None:
        return _unknown("roof.ridge_height", label, unit, how)
    height = run * math.tan(plan.roof.pitch)
    steps = (
        _step("pitch", math.degrees(plan.roof.pitch), "deg", "", OWNER),
        _step("level run from eaves to ridge", run, "m", how, ROOF),
        _step(label, height, "m", "run x tan pitch", ROOF),
    )
    return _figure("roof.ridge_height", label, height, unit, steps=steps, sources=(OWNER, ROOF))
