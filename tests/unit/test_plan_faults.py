"""Faults of the owner's plan: the numbers told, and the nearest place that fits."""

import math
from dataclasses import replace

import pytest

from cordwright.base import InputError
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

SECTION = WallSection(log_end_length=0.35, bead=0.1)
# The south panel is 3.725 m clear on the centre line: 3.8 + 0.35 - 0.425.
BOX = ((-1.9, -1.5), (1.9, -1.5), (1.9, 1.5), (-1.9, 1.5))
ELL = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0))


def plan_of(*openings, **more):
    sizes = {"outline": PolygonOutline(corners=BOX), "section": SECTION, "height": 2.25, "post_allowance": 0.425}
    return PlanInput(openings=openings, **(sizes | more))


def window(mark="W1", panel="S", **more):
    sizes = {"width": 0.9, "height": 1.2, "sill": 0.75, "from_left": 0.5}
    return Opening(id=mark, panel=panel, **(sizes | more))


def pipe(mark="K1", panel="S", **more):
    return Sleeve(id=mark, panel=panel, what="pipe", **({"diameter": 0.1, "from_left": 0.5, "height": 0.5} | more))


def told(plan, severity="error"):
    return [(p.field, p.message, p.hint) for p in find_faults(plan) if p.severity == severity]


W2 = window("W2", from_left=2.425)


def test_a_sound_plan_has_no_faults():
    assert find_faults(plan_of(window(width=1.6, from_left=0.4), W2, opening_slack=0.012)) == ()


def test_window_past_the_panel_end_over_its_neighbour():
    plan = plan_of(window(width=1.6, from_left=2.3), W2)
    assert told(plan) == [
        (
            "openings[0].from_left",
            "W1 runs 175 mm past the panel end and covers W2 over 900 mm, 1200 mm high",
            "fits with from_left = 825 mm",
        )
    ]
    with_slack = replace(plan, opening_slack=0.012)
    assert told(with_slack)[0][2] == "fits with from_left = 801 mm"
    with pytest.raises(InputError, match="runs 175 mm past"):
        reckon_plan(plan)


def test_window_alone_past_the_panel_end():
    (fault,) = told(plan_of(window(width=1.6, from_left=2.3)))
    assert fault[1:] == ("W1 runs 175 mm past the panel end", "fits with from_left = 2125 mm")


def test_window_before_the_panel_start():
    (fault,) = told(plan_of(window(from_left=-0.03)))
    assert fault[1:] == ("W1 starts 30 mm before the panel's start", "fits with from_left = 0 mm")


def test_window_above_the_wall_head():
    (fault,) = told(plan_of(window(height=0.6, sill=2.05)))
    assert fault == (
        "openings[0].sill",
        "W1 head is 400 mm above the wall head",
        "fits with sill = 1650 mm or height = 200 mm",
    )


def test_window_too_high_for_any_sill():
    (fault,) = told(plan_of(window(height=2.4, sill=0.0)))
    assert fault[1:] == ("W1 head is 150 mm above the wall head", "fits with height = 2250 mm")
    (round_one,) = told(plan_of(window(shape="round", width=2.4, height=2.4, sill=0.0)))
    assert round_one[2] == "a wall 150 mm higher, or a smaller one"


def test_window_too_high_and_past_the_end_is_lowered_first():
    faults = told(plan_of(window(height=0.6, sill=2.05, from_left=3.0)))
    assert [f[0] for f in faults] == ["openings[0].sill", "openings[0].from_left"]
    assert faults[1][2] == "fits with from_left = 2825 mm once it stands 400 mm lower"


def test_window_lowered_onto_another_is_not_offered():
    (fault,) = told(plan_of(window("W1", height=0.6, sill=2.05), window("W2", height=0.5, sill=1.5)))
    assert fault[2] == "fits with height = 200 mm"


def test_windows_that_leave_no_place_tell_the_widest_stretch():
    plan = plan_of(
        window("W1", width=1.6, from_left=0.4),
        window("W2", width=0.9, from_left=2.5),
        window("W3", width=1.0, from_left=2.0),
    )
    (fault,) = told(plan)
    assert fault[1] == "W3 covers W2 over 500 mm, 1200 mm high"
    assert fault[2] == "does not fit in panel S: the widest clear stretch at this height is 500 mm"


def test_only_the_slack_overlaps():
    plan = plan_of(window("W1", from_left=0.5), window("W2", from_left=1.41), opening_slack=0.012)
    (fault,) = told(plan)
    assert fault[1].startswith(
        "W2 leaves no wall beside W1: with 12 mm slack around each frame they overlap over 14 mm"
    )
    assert fault[2] == "fits with from_left = 1424 mm"
    assert told(replace(plan, opening_slack=None)) == []


def test_round_and_arched_heads_under_a_gable():
    # The gable rises 1 in 1 from 2.25 m at both ends; a circle touches it where the slope is 1.
    gable = (PanelSpec(name="S", head=Head(kind="gable", rise=3.725 / 2)),)
    radius, reach = 0.45, 0.45 * math.sqrt(2)
    porthole = window(shape="round", width=0.9, height=0.9, from_left=0.1, sill=2.0)
    (fault,) = told(plan_of(porthole, panels=gable))
    over = (2.0 + radius + reach) - (2.25 + 0.1 + radius)
    assert fault[1] == f"W1 head is {over * 1000:.1f} mm above the wall head"
    moved = math.ceil((0.1 + over) * 1000)
    sill = math.floor((2.0 - over) * 1000)
    assert fault[2] == f"fits with sill = {sill} mm or from_left = {moved} mm"
    assert told(plan_of(replace(porthole, from_left=moved / 1000), panels=gable)) == []
    arch = window(shape="arched", width=0.9, height=1.2, rise=0.1, from_left=0.0, sill=1.2)
    (fault,) = told(plan_of(arch, panels=gable))
    # Its springing corner, 2.3 m up at the panel's very end, is what stands out.
    assert fault[1] == "W1 head is 50 mm above the wall head"
    assert told(plan_of(replace(arch, sill=1.15), panels=gable)) == []


def test_under_a_sloping_head():
    sloping = (PanelSpec(name="S", head=Head(kind="sloping", left=2.0, right=3.0)),)
    (fault,) = told(plan_of(window(height=1.2, sill=1.0, from_left=0.0), panels=sloping))
    assert fault[1] == "W1 head is 200 mm above the wall head"
    assert fault[2] == "fits with sill = 800 mm or height = 1000 mm or from_left = 745 mm"
    falling = (PanelSpec(name="S", head=Head(kind="sloping", left=3.0, right=2.0)),)
    (fault,) = told(plan_of(window(height=1.2, sill=1.0, from_left=2.8), panels=falling))
    assert "from_left = 2080 mm" in fault[2]


def test_sill_below_the_bed():
    (fault,) = told(plan_of(window(sill=-0.1)))
    assert fault == ("openings[0].sill", "W1 sill is 100 mm below the bed", "at least 0 mm")


def test_round_windows_may_nestle():
    # Boxes overlap in the corner, circles do not.
    one = window("W1", shape="round", width=0.8, height=0.8, from_left=0.5, sill=0.5)
    two = window("W2", shape="round", width=0.8, height=0.8, from_left=1.2, sill=1.2)
    assert told(plan_of(one, two)) == []
    (fault,) = told(plan_of(one, replace(two, from_left=0.8)))
    assert fault[1].startswith("W2 covers W1 over 500 mm")
    # Centres 0.7 m apart in height: sqrt(0.8^2 - 0.7^2) = 0.387 m apart along the wall.
    assert fault[2] == "fits with from_left = 888 mm"


def test_sleeves_in_openings_and_in_each_other():
    (fault,) = told(
        plan_of(window(), pipe_free := window("W2", from_left=2.0), sleeves=(pipe(from_left=0.6, height=0.9),))
    )
    assert pipe_free.id == "W2"
    assert fault[0] == "sleeves[0].from_left"
    assert fault[1] == "K1 stands in the opening W1 over 100 mm, 100 mm high"
    assert fault[2] == "fits with from_left = 450 mm"
    (fault,) = told(plan_of(sleeves=(pipe("K1"), pipe("K2", from_left=0.56))))
    assert fault[1] == "K2 covers K1 over 40 mm, 100 mm high"
    assert fault[2] == "fits with from_left = 600 mm"


def test_sleeves_outside_the_panel():
    faults = told(
        plan_of(sleeves=(pipe(from_left=3.7), pipe("K2", height=0.02), pipe("K3", height=2.3, from_left=1.0)))
    )
    assert faults == [
        ("sleeves[0].from_left", "K1 runs 25 mm past the panel end", "fits with from_left = 3675 mm"),
        ("sleeves[1].height", "K2 reaches 30 mm below the bed", "at least 50 mm"),
        ("sleeves[2].height", "K3 reaches 100 mm above the wall head", "fits with height = 2200 mm"),
    ]


def test_many_overlaps_tell_three():
    thin = (window(f"W{n}", from_left=0.1 * n, width=0.1, sill=0.5) for n in range(9))
    (fault,) = told(plan_of(*thin, window("W9", from_left=0.0)))
    assert fault[1].count("covers") == 3


def test_thousand_openings_are_no_trouble():
    long_box = ((0.0, 0.0), (600.0, 0.0), (600.0, 4.0), (0.0, 4.0))
    row = [window(f"W{n}", width=0.2, height=0.2, from_left=1.0 + 0.59 * n) for n in range(1000)]
    plan = plan_of(*row, outline=PolygonOutline(corners=long_box))
    assert find_faults(plan) == ()
    crowded = replace(plan, openings=tuple(replace(o, from_left=5.0) for o in row))
    faults = told(crowded)
    assert len(faults) == 999
    assert [f[2] for f in faults] == ["fits with from_left = 4800 mm"] * 50 + ["mend the others first"] * 949


def test_piers():
    plan = plan_of(window("W1", from_left=0.3), window("W2", from_left=1.4), opening_slack=0.01)
    warnings = told(plan, "warning")
    assert warnings == [
        (
            "openings[0].from_left",
            "the pier between W1 and the start of panel S is 290 mm wide, less than one log end (350 mm)",
            "leave at least 350 mm, or set the frame against the post",
        ),
        (
            "openings[1].from_left",
            "the pier between W1 and W2 is 180 mm wide, less than one log end (350 mm)",
            "leave at least 350 mm, or let one frame or post close it",
        ),
    ]
    assert told(plan) == []


def test_no_pier_where_there_is_no_strip_or_no_common_height():
    assert find_faults(plan_of(window("W1", from_left=0.0), window("W2", from_left=0.9))) == ()
    above = (window("W1", from_left=0.5, height=0.4, sill=0.2), window("W2", from_left=1.5, height=0.4, sill=1.2))
    assert find_faults(plan_of(*above)) == ()
    behind = (window("W1", from_left=0.0), window("W2", from_left=0.9, width=2.5))
    (fault,) = told(plan_of(*behind), "warning")
    assert "W2 and the end of panel S is 325 mm" in fault[1]


def test_piers_across_the_beginning_of_a_round_wall():
    round_plan = {"outline": RoundOutline(inside_diameter=3.0), "post_allowance": 0.0}
    around = 2 * math.pi * 1.675
    near = (window("W1", "round", from_left=0.1), window("W2", "round", from_left=around - 1.0))
    (fault,) = told(plan_of(*near, **round_plan), "warning")
    assert fault[1].startswith("the pier between W2 and W1 is 200 mm wide")
    (over,) = told(plan_of(window("W1", "round", from_left=-0.4), **round_plan))
    assert "begins due north unless a post is stated elsewhere" in over[2]


def test_lintels():
    short = window(from_left=0.05, lintel_bearing=0.1, lintel_depth=0.15, height=1.4)
    faults = told(plan_of(short), "warning")
    assert [f[0] for f in faults] == ["openings[0].from_left", "openings[0].lintel_bearing", "openings[0].lintel_depth"]
    assert faults[1][1] == "the lintel of W1 bears 100 mm with 50 mm to the panel's start"
    assert faults[2][1] == "the lintel of W1 is 150 mm deep but has 100 mm to the wall head"


@pytest.mark.parametrize(
    ("more", "field", "words"),
    [
        ({"width": 0.0}, "openings[0].width", "0 mm is not a size"),
        ({"height": -1.0}, "openings[0].height", "-1000 mm is not a size"),
        ({"from_left": float("nan")}, "openings[0].from_left", "not a place"),
        ({"shape": "round", "height": 0.8}, "openings[0].height", "900 mm wide and 800 mm high"),
        ({"shape": "arched", "rise": 0.5}, "openings[0].rise", "cannot rise 500 mm"),
        ({"shape": "arched"}, "openings[0].rise", "cannot rise 0 mm"),
        ({"rise": 0.2}, "openings[0].rise", "is not arched"),
        ({"lintel_depth": -0.1}, "openings[0].lintel_depth", "not a size"),
        ({"mark": " "}, "openings[0].id", "empty id"),
        ({"panel": "SE"}, "openings[0].panel", "there is no panel SE"),
    ],
)
def test_faults_of_one_opening(more, field, words):
    (fault,) = told(plan_of(window(**more)))
    assert fault[0] == field
    assert words in fault[1]


def test_unknown_panel_tells_the_nearest_and_all():
    (fault,) = told(plan_of(window(panel="s")))
    assert fault[2] == "did you mean S? known here: S, E, N and W"


def test_duplicate_ids():
    faults = told(plan_of(window("A"), sleeves=(pipe("A", from_left=2.0),)))
    assert [f[0] for f in faults] == ["openings[0].id", "sleeves[0].id"]
    group = BottleGroup(id="B", panel="N", count=4, diameter=0.08, band_low=1.0, band_high=1.2)
    (fault,) = told(plan_of(sleeves=(pipe("B.2", from_left=2.0),), bottles=(group,)))
    assert fault[1] == "the id B.2 is used 2 times"


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"count": 0}, "count"),
        ({"diameter": 0.0}, "diameter"),
        ({"diameter": 0.001}, "diameter"),
        ({"band_low": -0.1}, "band_low"),
        ({"band_low": float("inf")}, "band_low"),
        ({"band_high": 0.5}, "band_high"),
        ({"band_high": 1.05}, "band_high"),
        ({"band_low": 2.2, "band_high": 2.6}, "count"),
    ],
)
def test_faults_of_bottles(more, field):
    sizes = {"count": 4, "diameter": 0.08, "band_low": 1.0, "band_high": 1.2}
    (fault,) = told(plan_of(bottles=(BottleGroup(id="B1", panel="S", **(sizes | more)),)))
    assert fault[0] == f"bottles[0].{field}"


@pytest.mark.parametrize(
    ("outline", "field", "words"),
    [
        (RoundOutline(inside_diameter=0.0), "plan.inside_diameter", "0 mm is not a size"),
        (OvalOutline(inside_length=4.0, inside_width=-3.0), "plan.inside_width", "-3000 mm"),
        (PolygonOutline(corners=BOX[:2]), "plan.corners", "2 corners"),
        (PolygonOutline(corners=(BOX[0], *BOX)), "plan.corners", "side 1"),
        (PolygonOutline(corners=BOX[::-1]), "plan.corners", "clockwise"),
        (PolygonOutline(corners=(BOX[0], BOX[2], BOX[1], BOX[3])), "plan.corners", "cross"),
        (PolygonOutline(corners=(*BOX[:2], (0.0, -1.5), (0.0, 2.0))), "plan.corners", "runs back"),
        (PolygonOutline(corners=BOX, corner_radius=-0.1), "plan.corner_radius", "-100 mm is not a radius"),
        (
            PolygonOutline(corners=BOX, corner_radius=1.6),
            "plan.corner_radius",
            "take 3200 mm of side E, which is 3000 mm",
        ),
        (PolygonOutline(corners=ELL, corner_radius=0.2), "plan.corner_radius", "re-entrant corner of 200 mm"),
    ],
)
def test_faults_of_the_outline(outline, field, words):
    plan = plan_of(outline=outline, post_allowance=0.0)
    (fault,) = told(plan)
    assert fault[0] == field
    assert words in fault[1]
    with pytest.raises(InputError):
        reckon_plan(plan)


def notched(width):
    a = width / 2
    return PolygonOutline(corners=((-3, 0), (3, 0), (3, 4), (a, 4), (a, 2), (-a, 2), (-a, 4), (-3, 4)))


def test_a_notch_must_stay_open():
    (fault,) = told(plan_of(outline=notched(0.6), post_allowance=0.0))
    assert "closes up a notch" in fault[1]
    assert told(plan_of(outline=notched(0.8), post_allowance=0.0)) == []
    roof = Roof(form="hip", pitch=0.5, overhang=0.3)
    (fault,) = told(plan_of(outline=notched(0.8), post_allowance=0.0, roof=roof))
    assert fault[0] == "roof.overhang"


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"side_names": ("S", "E")}, "plan.side_names"),
        ({"side_names": ("S", "E", "N", "")}, "plan.side_names"),
        ({"side_names": ("S", "E", "N", "S")}, "plan.side_names"),
        (
            {"side_names": ("S", "S1", "N", "W"), "frame": Frame(posts=(Post(side="S", from_left=2.0),))},
            "plan.side_names",
        ),
        ({"frame": Frame(posts=(Post(side="X", from_left=2.0),))}, "posts[0].side"),
        ({"frame": Frame(posts=(Post(side="S", from_left=4.15),))}, "posts[0].from_left"),
        ({"frame": Frame(posts=(Post(side="S", from_left=0.3),))}, "posts[0].from_left"),
        ({"post_allowance": -0.1}, "plan.post_allowance"),
        ({"post_allowance": 3.0}, "plan.post_allowance"),
        ({"panels": (PanelSpec(name="Q"),)}, "panels[0].name"),
        ({"panels": (PanelSpec(name="S"), PanelSpec(name="S"))}, "panels[0].name"),
        ({"panels": (PanelSpec(name="S", post_allowance=-1.0),)}, "panels[0].post_allowance"),
        ({"panels": (PanelSpec(name="S", post_allowance=9.0),)}, "panels[0].post_allowance"),
        ({"panels": (PanelSpec(name="S", head=Head(kind="gable")),)}, "panels[0].rise"),
        (
            {"panels": (PanelSpec(name="S", head=Head(kind="gable", rise=1.0, peak_from_left=5.0)),)},
            "panels[0].peak_from_left",
        ),
        ({"panels": (PanelSpec(name="S", head=Head(kind="sloping", left=2.0)),)}, "panels[0].right"),
        ({"height": 0.0}, "plan.height"),
        ({"wall_head_gap": -0.01}, "plan.wall_head_gap"),
        ({"wall_head_gap": 2.3}, "plan.wall_head_gap"),
        ({"opening_slack": float("nan")}, "plan.opening_slack"),
        ({"plinth_height": -0.3}, "plinth.height"),
        ({"frame": Frame(post_width=-0.2)}, "frame.post_width"),
        ({"roof": Roof(form="hip", pitch=0.0, overhang=0.5)}, "roof.pitch"),
        ({"roof": Roof(form="hip", pitch=0.5, overhang=-0.5)}, "roof.overhang"),
        ({"roof": Roof(form="cone", pitch=0.5, overhang=0.5)}, "roof.form"),
    ],
)
def test_faults_of_the_frame(more, field):
    faults = told(plan_of(**more))
    assert faults
    assert faults[0][0] == field


def test_closed_walls_and_their_posts():
    oval = {"outline": OvalOutline(inside_length=5.0, inside_width=4.0), "post_allowance": 0.0}
    far = Frame(posts=(Post(side="oval", from_left=99.0),))
    (fault,) = told(plan_of(**oval, frame=far))
    assert fault[0] == "posts[0].from_left"
    (fault,) = told(plan_of(**(oval | {"post_allowance": 99.0})))
    assert fault[0] == "plan.post_allowance"


def test_missing_ridge_is_a_warning():
    plan = plan_of(roof=Roof(form="shed", pitch=0.2, overhang=0.5))
    assert [f[0] for f in told(plan, "warning")] == ["roof.ridge"]
    assert told(plan) == []
