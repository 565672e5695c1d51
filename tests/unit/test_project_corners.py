"""The [corners] table, the drawing of a toothed panel, and a toothed panel laid."""

import math
from pathlib import Path

import numpy as np
import pytest

from cordwright.book.blocks import corner_blocks
from cordwright.book.drawing import Hatch
from cordwright.book.scale import ToPaper
from cordwright.cost.order import NEEDS
from cordwright.plan import Corners, PlanInput, PolygonOutline, WallSection, reckon_plan
from cordwright.project import read
from cordwright.wall.engine import lay_panel
from cordwright.wall.faces import faces_of
from cordwright.wall.judge import judge
from cordwright.wall.layout import Log

EXAMPLE = Path(__file__).parents[2] / "examples" / "bakehouse"
TABLE = """
[corners]
kind = "built-up"
block_length = "750 mm"
block_height = "150 mm"
joint = "20 mm"
"""


def south():
    plan = reckon_plan(
        PlanInput(
            outline=PolygonOutline(corners=((0.0, 0.0), (1.6, 0.0), (1.6, 1.4), (0.0, 1.4))),
            section=WallSection(log_end_length=0.3, bead=0.08),
            height=1.3,
            corners=Corners(kind="built-up", block_length=0.6, block_height=0.16, joint=0.02),
        )
    )
    return plan, next(p for p in plan.panels if p.name == "S")


def read_with(folder, table):
    for other in filter(Path.is_file, EXAMPLE.iterdir()):
        (folder / other.name).write_bytes(other.read_bytes())
    path = folder / "building.toml"
    path.write_text(path.read_text(encoding="utf-8") + table, encoding="utf-8")
    return read(path)


def test_a_toothed_panel_is_laid_around_its_blocks_and_on_them() -> None:
    plan, panel = south()
    face = next(f for f in faces_of(plan) if f.name == "S")
    rng = np.random.Generator(np.random.PCG64(3))
    stock = tuple(Log(id=f"L{n}", stem="S", diameter=float(d)) for n, d in enumerate(rng.uniform(0.08, 0.16, 140)))
    layout = lay_panel(face, stock, joint=0.02, joint_least=0.02, joint_largest=0.03, edge=0.01, seed=1, effort="draft")
    assert judge(layout, stock, joint=0.02, joint_least=0.02, edge=0.01) == ()
    wood = sum(math.pi / 4 * p.log.diameter**2 for p in layout.placements)
    assert layout.report.wood_fraction == pytest.approx(wood / panel.net_area, rel=1e-5)
    on_blocks = [p for p in layout.placements if "bed" in p.supports and p.y - p.log.diameter / 2 > 0.05]
    assert on_blocks


def test_each_block_is_drawn_as_timber_in_its_place() -> None:
    _, panel = south()
    shapes = corner_blocks(panel, ToPaper(denominator=20, origin=(0.0, 0.0)))
    hatched = [s for s in shapes if isinstance(s, Hatch)]
    assert len(hatched) == len(panel.blocks)
    assert {s.material for s in hatched} == {"timber"}
    first, block = hatched[0].rings[0], panel.blocks[0]
    assert first[0] == pytest.approx((block.left * 50, block.bottom * 50))
    assert first[2] == pytest.approx((block.right * 50, block.top * 50))


@pytest.mark.parametrize(
    ("written", "field", "words"),
    [
        (TABLE.replace('"750 mm"', '"-1 mm"'), "corners.block_length", "-1 mm"),
        (TABLE.replace("built-up", "builtup"), "corners.kind", "built-up"),
        (TABLE.replace("joint =", "joints ="), "corners.joints", "joint"),
        (TABLE.replace('joint = "20 mm"\n', ""), "corners.joint", "this is missing"),
        (TABLE, "plan.post_allowance", "whose corners are built up"),
    ],
)
def test_faults_of_the_table_are_named_at_their_line(tmp_path, written, field, words) -> None:
    found = [p for p in read_with(tmp_path, written).problems if p.field == field]
    assert found
    assert any(words in f"{p.message} {p.hint}" and p.line for p in found)


def test_corners_with_posts_may_be_said_in_words(tmp_path) -> None:
    found = read_with(tmp_path, '\n[corners]\nkind = "posts"\n')
    assert [p for p in found.problems if p.severity == "error"] == []


def test_the_wood_of_the_blocks_is_a_need_of_the_order_list() -> None:
    assert ("plan.corner_block_volume",) in NEEDS
