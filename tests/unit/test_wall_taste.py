"""What the owner wants of the sizes shows in the wall: large ones at the bottom, a band of large or of small ones."""

import numpy as np
from test_wall_engine import EDGE, JOINT, LARGEST, LEAST, face, faults, logs

from cordwright.wall.engine import lay_panel
from cordwright.wall.inputs import Band, Wishes
from cordwright.wall.taste import PLAIN, taste_of

PANEL = face(1.8, 1.5)
STOCK = logs(1.08 * 1.8 * 1.5, seed=4)
MIDDLE = {"low": 0.5, "high": 0.9}


def lay(wishes):
    layout = lay_panel(
        PANEL, STOCK, joint=JOINT, joint_least=LEAST, joint_largest=LARGEST, edge=EDGE, seed=1, effort="draft",
        taste=taste_of(wishes, PANEL),
    )  # fmt: skip
    height, diameter = np.array([(p.y, p.log.diameter) for p in layout.placements]).T
    return layout, height, diameter


def middle_over_rest(wishes):
    layout, height, diameter = lay(wishes)
    assert faults(layout, STOCK) == ()
    assert layout.report.effectiveness > 0.93 * layout.report.reference
    within = (height > MIDDLE["low"]) & (height < MIDDLE["high"])
    return diameter[within].mean() / diameter[~within].mean()


def test_nothing_wanted_is_no_taste_and_leaves_no_pattern():
    assert taste_of(Wishes(), PANEL) is PLAIN
    _, height, diameter = lay(Wishes())
    assert abs(np.corrcoef(height, diameter)[0, 1]) < 0.25


def test_large_ones_stand_at_the_bottom_where_wanted():
    layout, height, diameter = lay(Wishes(pattern="large at the bottom"))
    assert faults(layout, STOCK) == ()
    assert np.corrcoef(height, diameter)[0, 1] < -0.5
    assert layout.report.effectiveness > 0.93 * layout.report.reference


def test_a_band_of_large_ones():
    assert middle_over_rest(Wishes(bands=(Band(sizes="large", **MIDDLE),))) > 1.2


def test_a_band_of_small_ones():
    assert middle_over_rest(Wishes(bands=(Band(sizes="small", **MIDDLE),))) < 0.85


def test_a_band_of_another_panel_is_none_of_this_one():
    assert taste_of(Wishes(bands=(Band(panel="south", sizes="large", **MIDDLE),)), PANEL) is PLAIN


def test_heights_count_from_the_bed():
    raised = face(1.8, 1.5)
    lifted = taste_of(Wishes(bands=(Band(sizes="large", **MIDDLE),)), raised)
    at = dict(zip(lifted.heights, lifted.lean, strict=True))
    assert at[0.5] > 0
    assert at[0.9] > 0
    assert at[0.0] == at[1.5] == 0
