"""Does a laid wall read as the other program expects, key by key?"""

import json
import math
from dataclasses import replace

import layout_samples as samples
from cordwright.wall.layout_json import layout_json

PANEL = {"name", "outline", "openings", "obstacles", "placements", "fillers", "report"}
PLACEMENT = {"id", "stem", "shape", "angle", "x", "y", "diameter", "order", "supports", "note"}
REPORT = {
    "wood_fraction", "effectiveness", "reference", "florian_bound", "joint_min", "joint_nominal", "joint_max",
    "joint_hollow_min", "joint_wide_max",
    "unsupported", "straight_run", "clustering", "mortar_volume", "seconds",
}  # fmt: skip


def test_the_mapping_has_the_agreed_keys_and_nothing_else():
    layout = samples.stored()
    written = layout_json((layout,), (*samples.stock_of(layout), samples.log(70)), ("T09-7",))
    assert set(written) == {"schema", "unit", "panels", "stock", "unused", "settled", "widened", "shortage"}
    assert (written["schema"], written["unit"], written["unused"]) == (1, "m", ["T09-7"])
    assert written["stock"][-1] == {"id": "T09-7", "stem": "T09", "diameter": 0.15}
    (panel,) = written["panels"]
    assert set(panel) == PANEL
    assert panel["outline"] == [[0, 0], [1.2, 0], [1.2, 0.9], [0, 0.9]]
    assert panel["openings"][0]["id"] == "W1"
    assert panel["obstacles"][0] == {"id": "K1", "x": 1.05, "y": 0.5, "diameter": 0.05}
    assert panel["fillers"] == [{"x": 1.05, "y": 0.75, "diameter": 0.06, "face": "both"}]
    assert all(set(p) == PLACEMENT for p in panel["placements"])
    assert set(panel["report"]) == REPORT


def test_it_reads_back_as_it_was_in_laying_order():
    layout = samples.stored()
    turned = replace(layout, placements=layout.placements[::-1])
    back = json.loads(json.dumps(layout_json((turned,), (), ()), allow_nan=False))["panels"][0]["placements"]
    assert [p["order"] for p in back] == list(range(1, 46))
    for read, placed in zip(back, layout.placements, strict=True):
        assert (read["id"], read["x"], read["y"], read["diameter"]) == (
            placed.log.id,
            placed.x,
            placed.y,
            placed.log.diameter,
        )
        assert read["supports"] == list(placed.supports)


def test_what_is_not_known_is_null():
    layout = replace(samples.stored(), report=samples.blank_report(clustering=math.nan, mortar_area=0.5))
    bare = layout_json((layout,), (), ())["panels"][0]["report"]
    assert (bare["clustering"], bare["mortar_volume"], bare["seconds"]) == (None, None, None)
    known = layout_json((layout,), (), (), mortar_depth=0.2, seconds={"S": 1.5})["panels"][0]["report"]
    assert (known["mortar_volume"], known["seconds"]) == (0.1, 1.5)
