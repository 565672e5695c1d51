"""The plan held against second opinions (independent geometry libraries), conservation, symmetry and monotony."""

import math
from dataclasses import replace

import numpy as np
import pytest
import scipy.integrate
import scipy.spatial
import scipy.special
import shapely
import trimesh
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from cordwright.plan import (
    BottleGroup,
    Frame,
    Head,
    Opening,
    OvalOutline,
    PanelSpec,
    PlanInput,
    PolygonOutline,
    Post,
    Roof,
    RoundOutline,
    Sleeve,
    WallSection,
    find_faults,
    reckon_plan,
)
from cordwright.plan.openings import body, opening_outline
from cordwright.plan.outline import face, shape_of
from cordwright.plan.places import Bay, free_places, reach, room

SECTION = WallSection(log_end_length=0.35, bead=0.1)
fewer = settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow]
)
few = settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow]
)
lengths = st.floats(0.5, 8.0)
bearings = st.floats(0.0, 2 * math.pi)


def plan_of(outline, **more):
    return PlanInput(outline=outline, section=SECTION, **({"height": 2.25} | more))


@st.composite
def stars(draw, low=2.0, high=6.0):
    """Simple polygons, convex or not, counter-clockwise: corners at growing angles around the middle."""
    n = draw(st.integers(3, 9))
    gaps = draw(st.lists(st.floats(0.5, 1.0), min_size=n, max_size=n))
    radii = draw(st.lists(st.floats(low, high), min_size=n, max_size=n))
    angles = np.cumsum(gaps) / sum(gaps) * 2 * math.pi
    return tuple((float(r * math.cos(a)), float(r * math.sin(a))) for r, a in zip(radii, angles, strict=True))


@st.composite
def rounds(draw):
    """Convex polygons: corners on an ellipse."""
    n = draw(st.integers(3, 9))
    gaps = draw(st.lists(st.floats(0.4, 1.0), min_size=n, max_size=n))
    a, b = draw(st.floats(2.5, 6.0)), draw(st.floats(2.5, 6.0))
    angles = np.cumsum(gaps) / sum(gaps) * 2 * math.pi
    return tuple((float(a * math.cos(t)), float(b * math.sin(t))) for t in angles)


def buildable(plan):
    assume(not [p for p in find_faults(plan) if p.severity == "error"])
    return reckon_plan(plan)


@few
@given(stars(), st.floats(0.1, 0.6))
def test_sharp_faces_against_mitred_buffers(corners, length):
    plan = replace(plan_of(PolygonOutline(corners=corners)), section=WallSection(log_end_length=length, bead=0.04))
    reckoned = buildable(plan)
    for distance, perimeter, ring in (
        (0.0, "plan.inner_perimeter", reckoned.inner_face),
        (length / 2, "plan.centre_perimeter", reckoned.centre_face),
        (length, "plan.outer_perimeter", reckoned.outer_face),
    ):
        other = shapely.Polygon(corners).buffer(distance, join_style="mitre", mitre_limit=1e6)
        assert reckoned.figure(perimeter).value == pytest.approx(other.length, rel=1e-9)
        assert shapely.Polygon(ring).area == pytest.approx(other.area, rel=1e-9)
    assert reckoned.figure("plan.outer_area").value == pytest.approx(other.area, rel=1e-9)
    assert reckoned.figure("plan.inner_area").value == pytest.approx(shapely.Polygon(corners).area, rel=1e-12)


@few
@given(stars())
def test_a_notch_that_closes_is_found_by_the_second_opinion_too(corners):
    plan = plan_of(PolygonOutline(corners=corners))
    closes = any("closes up a notch" in p.message for p in find_faults(plan))
    shape = shape_of(plan.outline)
    ring = shapely.LinearRing(np.asarray(face(shape, 0.35).ring))
    outer = shapely.Polygon(corners).buffer(0.35, join_style="mitre", mitre_limit=1e6)
    # Where every side of the mitred polygon survives, it is simple and is the buffer itself.
    same = ring.is_simple and abs(shapely.Polygon(ring).area - outer.area) < 1e-9 * outer.area
    assert closes == (not same)


@few
@given(rounds(), st.floats(0.05, 0.4))
def test_rounded_convex_faces_against_round_buffers(corners, radius):
    plan = plan_of(PolygonOutline(corners=corners, corner_radius=radius))
    reckoned = buildable(plan)
    core = shapely.Polygon(corners).buffer(-radius, join_style="mitre", mitre_limit=1e6)
    for distance, key in ((0.0, "inner"), (0.35, "outer")):
        other = core.buffer(radius + distance, quad_segs=2000)
        assert reckoned.figure(f"plan.{key}_perimeter").value == pytest.approx(other.length, rel=1e-6)
        assert reckoned.figure(f"plan.{key}_area").value == pytest.approx(other.area, rel=1e-6)


@few
@given(stars(3.0, 7.0), st.floats(0.36, 0.5), st.floats(0.0, 0.8))
def test_rounded_faces_are_parallel_where_corners_are_re_entrant(corners, radius, overhang):
    plan = plan_of(PolygonOutline(corners=corners, corner_radius=radius))
    reckoned = buildable(plan)
    inner = shapely.Polygon(reckoned.inner_face)
    outer = shapely.LinearRing(reckoned.outer_face)
    away = [inner.distance(shapely.Point(p)) for p in outer.coords]
    assert max(away) == pytest.approx(0.35, abs=3e-3)
    assert min(away) == pytest.approx(0.35, abs=3e-3)
    assert inner.area == pytest.approx(reckoned.figure("plan.inner_area").value, rel=2e-3)
    # Eaves may use up the arc of a re-entrant corner; the parallel outline then has a sharp corner there.
    roofed = replace(plan, roof=Roof(form="hip", pitch=0.5, overhang=overhang))
    eaves = inner.buffer(0.35 + overhang, quad_segs=64)
    assert buildable(roofed).figure("roof.plan_area").value == pytest.approx(eaves.area, rel=2e-3)
    assert face(shape_of(plan.outline), 0.35 + overhang).length == pytest.approx(eaves.length, rel=2e-3)


@few
@given(
    st.one_of(
        stars().map(lambda c: PolygonOutline(corners=c)),
        rounds().map(lambda c: PolygonOutline(corners=c, corner_radius=0.2)),
    )
)
def test_wall_volume_against_an_extruded_ring(outline):
    """Without posts, gross area on the centre line x thickness is the wall's volume: its ring extruded to the head."""
    plan = plan_of(outline)
    reckoned = buildable(plan)
    ring = shapely.Polygon(reckoned.outer_face, [reckoned.inner_face])
    solid = trimesh.creation.extrude_polygon(ring, plan.height)
    gross = reckoned.figure("plan.gross_wall_area").value
    tolerance = 1e-9 if outline.corner_radius == 0 else 2e-3
    assert gross * 0.35 == pytest.approx(solid.volume, rel=tolerance)
    areas = reckoned.figure("plan.outer_area").value - reckoned.figure("plan.inner_area").value
    assert gross * 0.35 == pytest.approx(areas * plan.height, rel=1e-9)


@few
@given(st.floats(0.3, 6.0), st.floats(1.0, 20.0))
def test_oval_perimeter_against_the_complete_elliptic_integral(half, slimness):
    reckoned = face(shape_of(OvalOutline(inside_length=2 * half, inside_width=2 * half / slimness)), 0.0)
    expected = 4 * half * scipy.special.ellipe(1 - slimness**-2)
    assert reckoned.length == pytest.approx(expected, rel=1e-13)


@fewer
@given(
    st.floats(4.0, 8.0),
    st.floats(3.0, 6.0),
    bearings,
    st.lists(st.floats(0.05, 0.95), min_size=2, max_size=4, unique=True),
)
def test_oval_panels_against_quadrature(length, width, north, shares):
    plan = plan_of(OvalOutline(inside_length=length, inside_width=width), north=north)
    around = reckon_plan(plan).figure("plan.centre_perimeter").value
    posts = tuple(Post(side="oval", from_left=share * around) for share in shares)
    reckoned = buildable(replace(plan, frame=Frame(posts=posts)))
    assert math.fsum(p.inner_length for p in reckoned.panels) == pytest.approx(
        reckoned.figure("plan.inner_perimeter").value
    )
    for panel in reckoned.panels:
        for line, told in (
            (panel.inner_line, panel.inner_length),
            (panel.centre_line, panel.centre_length),
            (panel.outer_line, panel.outer_length),
        ):
            assert shapely.LineString(line).length == pytest.approx(told, rel=2e-3)
        a, b = length / 2, width / 2
        start, end = (math.atan2(x / a, y / b) for x, y in (panel.inner_line[0], panel.inner_line[-1]))
        end += 2 * math.pi * (end <= start)
        exact, _ = scipy.integrate.quad(
            lambda t, a=a, b=b: math.hypot(a * math.cos(t), b * math.sin(t)),
            start,
            end,
            epsabs=1e-11,
            # The default relative tolerance stops the peer early: off by 6.5e-6 m once, where Simpson's rule with two
            # million points agreed with ours to the last digit.
            epsrel=1e-12,
            limit=400,
        )
        assert panel.inner_length == pytest.approx(exact, abs=1e-8)


@few
@given(rounds(), st.floats(0.2, 1.2), st.floats(0.0, 1.0))
def test_hip_roof_against_a_polytope(corners, pitch, overhang):
    """A hip roof over convex eaves is the body under all its slopes: a polytope, meshed by its hull."""
    plan = plan_of(PolygonOutline(corners=corners), roof=Roof(form="hip", pitch=pitch, overhang=overhang))
    reckoned = buildable(plan)
    eaves = np.asarray(reckoned.eaves)
    sides = np.roll(eaves, -1, axis=0) - eaves
    normals = np.column_stack((sides[:, 1], -sides[:, 0])) / np.hypot(*sides.T)[:, None]
    rise = math.tan(pitch)
    slopes = np.column_stack((normals * rise, np.ones(len(eaves)), -(normals * eaves).sum(axis=1) * rise))
    spaces = np.vstack((slopes, (0.0, 0.0, -1.0, 0.0)))
    # The middle of the star of corners lies well inside, just above the eaves.
    body_ = scipy.spatial.HalfspaceIntersection(spaces, np.array((0.0, 0.0, 1e-3)))
    mesh = trimesh.convex.convex_hull(body_.intersections)
    up = mesh.face_normals[:, 2] > 1e-6
    assert mesh.area_faces[up].sum() == pytest.approx(reckoned.figure("roof.slope_area").value, rel=1e-6)
    assert mesh.vertices[:, 2].max() == pytest.approx(reckoned.figure("roof.ridge_height").value, rel=1e-6)


@few
@given(lengths, lengths, st.floats(0.1, 1.2), st.floats(0.0, 1.0))
def test_gable_roof_against_a_mesh(length, width, pitch, overhang):
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    roof = Roof(form="gable", pitch=pitch, overhang=overhang, ridge=math.pi / 2)
    reckoned = reckon_plan(plan_of(PolygonOutline(corners=corners), roof=roof))
    (x0, y0), (x1, y1) = np.min(reckoned.eaves, axis=0), np.max(reckoned.eaves, axis=0)
    top, middle = reckoned.figure("roof.ridge_height").value, (y0 + y1) / 2
    marks = [(x0, y0, 0), (x1, y0, 0), (x1, y1, 0), (x0, y1, 0), (x0, middle, top), (x1, middle, top)]
    mesh = trimesh.Trimesh(marks, [(0, 1, 5), (0, 5, 4), (2, 3, 4), (2, 4, 5)])
    assert mesh.area == pytest.approx(reckoned.figure("roof.slope_area").value, rel=1e-9)
    assert math.atan2(mesh.face_normals[0][1] * -1, mesh.face_normals[0][2]) == pytest.approx(pitch)


@st.composite
def furnished(draw):
    """A polygon with posts' allowances, heads of all kinds and a window in some panels, whatever they come to."""
    corners = draw(rounds())
    plan = plan_of(PolygonOutline(corners=corners), post_allowance=draw(st.floats(0.0, 0.3)))
    assume(find_faults(plan) == ())
    panels, openings = [], []
    for n, panel in enumerate(reckon_plan(plan).panels):
        kind = draw(st.sampled_from(["level", "gable", "sloping"]))
        head = Head(
            kind=kind, rise=draw(st.floats(0.1, 2.0)), left=draw(st.floats(2.0, 3.0)), right=draw(st.floats(2.0, 3.0))
        )
        panels.append(PanelSpec(name=panel.name, head=head))
        width = draw(st.floats(0.05, 0.9)) * panel.centre_length
        shape = draw(st.sampled_from(["rectangle", "arched"]))
        rise = width / 2 * draw(st.floats(0.1, 1.0)) if shape == "arched" else 0.0
        rise = min(rise, 0.5)
        openings.append(
            Opening(
                id=f"W{n}", panel=panel.name, width=width, height=0.9, sill=0.5, from_left=0.0, shape=shape, rise=rise
            )
        )
    return replace(plan, panels=tuple(panels), openings=tuple(openings))


@few
@given(furnished())
def test_panels_add_up_to_the_total_exactly(plan):
    reckoned = buildable(plan)
    panels = reckoned.panels
    gross, holes, net = (
        reckoned.figure(f"plan.{k}").value for k in ("gross_wall_area", "openings_area", "net_wall_area")
    )
    assert sum(p.gross_area for p in panels) == gross
    assert sum(p.openings_area for p in reversed(panels)) == holes
    assert math.fsum(p.net_area for p in panels) == net
    assert gross - holes == net
    assert math.fsum(p.obstacles_area for p in panels) == reckoned.figure("plan.obstacles_area").value
    for panel in panels:
        assert panel.gross_area == pytest.approx(shapely.Polygon(panel.outline).area, abs=1e-11)
        assert panel.openings_area == sum(o.area for o in panel.openings)


@few
@given(stars(), bearings, st.tuples(st.floats(-9, 9), st.floats(-9, 9)))
def test_turning_and_shifting_the_plan_changes_nothing_but_bearings(corners, turn, shift):
    names = tuple(f"side{n}" for n in range(len(corners)))
    plan = plan_of(PolygonOutline(corners=corners), side_names=names)
    one = buildable(plan)
    c, s = math.cos(turn), math.sin(turn)
    moved = tuple((c * x - s * y + shift[0], s * x + c * y + shift[1]) for x, y in corners)
    other = reckon_plan(replace(plan, outline=PolygonOutline(corners=moved), north=turn))
    for a, b in zip(one.panels, other.panels, strict=True):
        assert (a.name, a.inner_length, a.outer_length) == (
            b.name,
            pytest.approx(b.inner_length),
            pytest.approx(b.outer_length),
        )
        # Plan up turned back by the same angle: every side faces where it did.
        assert math.cos(a.bearing - b.bearing) == pytest.approx(1.0)
    for key in ("plan.inner_area", "plan.outer_area", "plan.net_wall_area"):
        assert one.figure(key).value == pytest.approx(other.figure(key).value, rel=1e-9)


@few
@given(rounds(), st.floats(0.3, 0.7))
def test_mirroring_swaps_left_and_right(corners, share):
    names = tuple(f"s{n}" for n in range(len(corners)))
    plan = plan_of(PolygonOutline(corners=corners), side_names=names)
    whole = buildable(plan).panels[0].centre_length
    left = reckon_plan(replace(plan, frame=Frame(posts=(Post(side="s0", from_left=share * whole),))))
    mirrored = tuple((-x, y) for x, y in reversed(corners))
    # Side 0 ran from corner 0 to 1; among the reversed corners it is the last but one.
    flipped = tuple(f"s{(len(corners) - 2 - n) % len(corners)}" for n in range(len(corners)))
    post = Post(side="s0", from_left=(1 - share) * whole)
    right = reckon_plan(
        replace(plan, outline=PolygonOutline(corners=mirrored), side_names=flipped, frame=Frame(posts=(post,)))
    )
    ones = {p.name: p for p in left.panels}
    others = {p.name: p for p in right.panels}
    for mine, theirs in (("s01", "s02"), ("s02", "s01"), ("s1", "s1")):
        assert ones[mine].inner_length == pytest.approx(others[theirs].inner_length)
        assert ones[mine].outer_length == pytest.approx(others[theirs].outer_length)


@few
@given(stars(), st.floats(0.1, 0.3), st.floats(0.01, 0.2))
def test_a_thicker_wall_goes_further_out(corners, thin, more):
    def reckoned(length):
        section = WallSection(log_end_length=length, bead=0.03)
        return buildable(replace(plan_of(PolygonOutline(corners=corners)), section=section))

    one, other = reckoned(thin), reckoned(thin + more)
    assert one.figure("plan.inner_area").value == other.figure("plan.inner_area").value
    assert one.figure("plan.outer_area").value < other.figure("plan.outer_area").value


@pytest.mark.parametrize("radius", [2.0, 5.0])
def test_a_many_sided_outline_nears_the_circle(radius):
    n = 720
    corners = tuple((radius * math.cos(2 * math.pi * k / n), radius * math.sin(2 * math.pi * k / n)) for k in range(n))
    many, circle = (
        face(shape_of(PolygonOutline(corners=corners)), 0.35),
        face(shape_of(RoundOutline(inside_diameter=2 * radius)), 0.35),
    )
    assert many.length == pytest.approx(circle.length, rel=2e-5)
    assert many.area == pytest.approx(circle.area, rel=3e-5)


@st.composite
def things(draw):
    """An opening anywhere near a panel 4 m long."""
    shape = draw(st.sampled_from(["rectangle", "round", "arched"]))
    width = draw(st.floats(0.1, 1.6))
    height = width if shape == "round" else draw(st.floats(0.3, 1.5))
    rise = min(width / 2, height) * draw(st.floats(0.05, 1.0)) if shape == "arched" else 0.0
    sizes = {"width": width, "height": height, "rise": rise, "shape": shape}
    return Opening(id="W", panel="S", sill=draw(st.floats(0.0, 2.0)), from_left=draw(st.floats(-0.5, 4.0)), **sizes)


@few
@given(things(), things())
def test_overlap_against_polygons(one, other):
    """Two outlines drawn as fine polygons meet when, and only when, the closed form says so."""
    a, b = (shapely.Polygon(opening_outline(o)) for o in (one, other))
    far = abs(one.from_left + one.width / 2 - other.from_left - other.width / 2)
    deep = reach(body(one), body(other)) - far
    # Chords stand off the arcs by up to a millimetre, and corners meet at shallow angles.
    assume(abs(deep) > 0.02)
    shared = a.intersection(b).area
    if reach(body(one), body(other)) == 0.0:
        assert shared < 1e-6
    elif deep > 0:
        assert a.distance(b) < 2e-3
    else:
        assert shared == 0.0


@few
@given(things(), st.lists(things(), max_size=3), st.floats(0.0, 0.03))
def test_the_hinted_place_fits_and_none_is_nearer(thing, others, slack):
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    standing = tuple(replace(o, id=f"V{n}") for n, o in enumerate(others))
    plan = plan_of(PolygonOutline(corners=corners), height=3.6, opening_slack=slack, openings=standing)
    assume(not [p for p in find_faults(plan) if p.severity == "error"])
    crowded = replace(plan, openings=(*standing, thing))
    field = f"openings[{len(standing)}].from_left"
    faults = [p for p in find_faults(crowded) if p.severity == "error"]
    assume([p.field for p in faults] == [field])
    hint = faults[0].hint
    if hint.startswith("fits"):
        place = float(hint.removeprefix("fits with from_left = ").removesuffix(" mm")) / 1000
        moved = replace(crowded, openings=(*standing, replace(thing, from_left=place)))
        assert [p for p in find_faults(moved) if p.severity == "error"] == []
        way = abs(place - thing.from_left)
        tries = np.linspace(thing.from_left - way, thing.from_left + way, 41)[1:-1]
    else:
        assert "widest clear stretch" in hint
        tries = np.linspace(0.0, 4.35 - thing.width, 41)
    for from_left in tries:
        # Whole millimetres are told, so a place may be up to one nearer.
        if hint.startswith("fits") and abs(abs(from_left - thing.from_left) - way) < 2e-3:
            continue
        tried = replace(crowded, openings=(*standing, replace(thing, from_left=float(from_left))))
        assert [p for p in find_faults(tried) if p.severity == "error"]


@few
@given(things(), st.floats(0.2, 2.0), st.floats(0.5, 3.5))
def test_room_under_a_gable_against_polygons(thing, rise, peak):
    head = ((0.0, 2.2), (peak, 2.2 + rise), (4.0, 2.2))
    bay = Bay(width=4.0, head=head)
    found = room(body(thing), bay)
    inside = shapely.Polygon(((0.0, -1.0), (4.0, -1.0), *reversed(head)))
    for place in np.linspace(thing.width / 2, 4 - thing.width / 2, 15):
        drawn = shapely.Polygon(opening_outline(replace(thing, from_left=float(place - thing.width / 2))))
        over = drawn.difference(inside.buffer(3e-3)).area
        if found is not None and found[0] <= place <= found[1]:
            assert over < 1e-12
        elif found is None or min(abs(place - found[0]), abs(place - found[1])) > 0.2:
            assert drawn.difference(inside).area > 0


@few
@given(
    st.integers(1, 60), st.floats(0.05, 0.12), st.floats(0.0, 1.5), st.floats(0.13, 1.0), st.lists(things(), max_size=2)
)
def test_bottles_keep_clear_of_everything(count, diameter, low, band, others):
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    standing = tuple(replace(o, id=f"V{n}", from_left=abs(o.from_left)) for n, o in enumerate(others))
    group = BottleGroup(id="B", panel="S", count=count, diameter=diameter, band_low=low, band_high=low + band)
    pipe = Sleeve(id="K", panel="S", what="air", diameter=0.1, from_left=0.2, height=0.6)
    plan = plan_of(PolygonOutline(corners=corners), height=3.6, openings=standing, sleeves=(pipe,), bottles=(group,))
    reckoned = buildable(plan)
    panel = next(p for p in reckoned.panels if p.name == "S")
    ends = [o for o in panel.obstacles if o.id != "K"]
    assert len(ends) == count
    marks = np.array([(e.u, e.v) for e in ends])
    if count > 1:
        assert scipy.spatial.distance.pdist(marks).min() >= 1.5 * diameter - 1e-9
    assert (marks[:, 1] - diameter / 2 >= low - 1e-9).all()
    assert (marks[:, 1] + diameter / 2 <= low + band + 1e-9).all()
    face_ = shapely.Polygon(panel.outline)
    for u, v in marks:
        disc = shapely.Point(u, v).buffer(diameter - 2e-3)
        assert face_.buffer(diameter).contains(disc)
        assert all(not disc.intersects(shapely.Polygon(o.outline)) for o in panel.openings)
        assert math.dist((u, v), (0.2, 0.6)) >= diameter + 0.05 - 1e-9


def test_free_places_do_not_overlap_and_lie_within_the_span():
    one = body(Opening(id="W", panel="S", width=0.5, height=1.0, sill=0.5, from_left=0.0))
    spans = free_places((0.25, 3.75), one, [(1.0, one), (1.2, one), (3.0, one)])
    assert spans == ((0.25, 0.5), (1.7, 2.5), (3.5, 3.75))
