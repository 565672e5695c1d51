"""Lines of one temperature, dots and the sheet of the wall's heat."""

import numpy as np
import pytest
from test_heat_laid import _studio

from cordwright.book.contours import level_lines
from cordwright.book.drawing import Circle, Path, Text, every
from cordwright.book.heat_drawing import face_levels, heat_drawings
from cordwright.book.heat_words import answer, drivers_words, panel_heads, panel_rows
from cordwright.book.svg import to_svg
from cordwright.heat import HeatStudy
from cordwright.heat.drivers import drivers
from cordwright.reckon import laid_wall


def test_a_level_line_runs_round_a_hill_at_its_height() -> None:
    x = np.linspace(-1, 1, 41)
    hill = -np.hypot(*np.meshgrid(x, x))
    (run,) = level_lines(x, x, hill, -0.5)
    assert run[0] == run[-1]
    assert np.hypot(*np.array(run).T) == pytest.approx(0.5, abs=0.003)


def test_level_lines_end_at_what_is_not_known() -> None:
    x = np.linspace(0, 1, 11)
    slope = np.tile(x, (11, 1)).copy()
    slope[4:7, :] = np.nan
    runs = level_lines(x, x, slope, 0.55)
    assert len(runs) == 2
    assert {round(p[0], 6) for run in runs for p in run} == {0.55}


def test_levels_are_few_and_round() -> None:
    levels = face_levels(np.array([[16.9, 18.6], [np.nan, 17.4]]))
    assert 3 <= len(levels) <= 8
    assert all(round(v * 20) == pytest.approx(v * 20) for v in levels)


def test_drawings_of_a_panel() -> None:
    project, reckoning = _studio()
    wall, study = laid_wall(project, reckoning), reckoning.wall_heat.study
    assert wall is not None
    assert study is not None
    one = HeatStudy(panels=study.panels[:1])
    lines, dots = heat_drawings(project, wall, one, {"S": "s"})
    assert (lines.name, dots.name) == ("warmth-s", "heat-s")
    logs = len(wall.laid[0].placements)
    assert sum(isinstance(s, Circle) and s.layer == "log" for s in every(lines.shapes)) == logs
    assert sum(isinstance(s, Path) and s.layer == "hatch" for s in every(lines.shapes)) > 20
    assert any(isinstance(s, Text) and s.text.endswith("°C") for s in every(lines.shapes))
    black = [s.radius for s in every(dots.shapes) if isinstance(s, Circle) and s.tone == "black"]
    assert len(black) > 300
    assert min(black) < 0.3 * max(black)
    for drawing in (lines, dots):
        assert drawing.width < 190
        assert to_svg(drawing).startswith("<svg")


def test_words_of_the_heat() -> None:
    project, reckoning = _studio()
    heat, study = reckoning.wall_heat, reckoning.wall_heat.study
    assert heat.materials is not None
    assert study is not None
    first = next(iter(answer(project, reckoning)))
    assert "as laid, log by log" in first
    found = drivers(project.plan.section, heat.wood_fraction, heat.materials, heat.diameters)
    assert any("The log is the weaker path" in text for text in drivers_words(project, found))
    assert all(len(row) == len(panel_heads(project)) for row in panel_rows(project, study))
