"""Known best packings of equal discs, and how many can stand in a convex figure at most, against the layout's measures.

Sources, remembered: H. Groemer 1960 and N. Oler 1961, a convex figure of area A and perimeter P holds at most
2/sqrt(3) A + P/2 + 1 points at least 1 apart. Best radii of n equal discs in a square of side 1, proven (n = 2 to 5:
J. Schaer 1965 and before; listed by E. Specht, packomania): 1/(2 + sqrt 2), for 2; 0.254333095 for 3; 1/4 for 4;
0.207106781 for 5. Densities pi/sqrt(12) (Thue, Fejes Toth) and pi/4 of the hexagonal and the square arrangement.
A. Florian 1960: equal discs are no denser than the hexagon.
"""

import math

import numpy as np
import pytest

from cordwright.wall import region as regions
from cordwright.wall.engine import lay_panel
from cordwright.wall.judge import judge
from cordwright.wall.layout import Face, Log
from cordwright.wall.report import Laid, florian_bound, report_of

JOINT = 0.025


def oler(area, perimeter):
    return 2 / math.sqrt(3) * area + perimeter / 2 + 1


def box(width, height):
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def placed(width, height, x, y, radius):
    """A report on discs that touch when half a joint is added to each, at edges too."""
    (part,) = regions.regions_of(Face(name="n", outline=box(width, height)))
    laid = Laid(
        regions=(part,), net_area=part.area, x=np.array(x), y=np.array(y), radius=np.full(len(x), radius - JOINT / 2),
        others=np.zeros((0, 3)), joint=JOINT, edge=JOINT / 2, unsupported=0,
    )  # fmt: skip
    return report_of(laid)


def test_square_arrangement_fills_a_quarter_of_pi():
    at = 0.2 * (np.arange(6) + 0.5)
    x, y = (a.ravel() for a in np.meshgrid(at, at))
    assert placed(1.2, 1.2, x, y, 0.1).effectiveness == pytest.approx(0.785398, abs=5e-7)


def test_hexagonal_arrangement_nears_its_density_and_never_passes_it():
    hexagonal = 0.906900
    shares = []
    for rows in (6, 12, 24):
        rise = 0.2 * math.sqrt(3) / 2
        spots = [(0.1 + 0.2 * c + 0.1 * (r % 2), 0.1 + rise * r) for r in range(rows) for c in range(rows)]
        x, y = np.array(spots).T
        shares.append(placed(0.2 * rows + 0.1, 0.2 + rise * (rows - 1), x, y, 0.1).effectiveness)
    assert shares == sorted(shares)
    assert 0.87 < shares[-1] < hexagonal
    assert florian_bound(0.1, 0.1) == pytest.approx(hexagonal, abs=5e-7)


@pytest.mark.parametrize(("count", "radius"), [(2, 0.292893219), (4, 0.25), (5, 0.207106781)])
def test_best_packings_in_a_square_have_their_joint(count, radius):
    c, s = radius, 1 - radius
    corners = [(c, c), (s, s), (c, s), (s, c), (0.5, 0.5)]
    x, y = np.array(corners[:count]).T
    report = placed(1.0, 1.0, x, y, radius)
    assert report.effectiveness == pytest.approx(count * math.pi * radius**2, rel=1e-8)
    assert report.joint_min == pytest.approx(JOINT, abs=2e-9)
    assert count <= oler((1 - 2 * radius) ** 2 / (2 * radius) ** 2, 4 * (1 - 2 * radius) / (2 * radius))


@pytest.mark.parametrize(("count", "radius"), [(2, 0.292893219), (3, 0.254333095), (4, 0.25), (5, 0.207106781)])
def test_discs_over_the_best_radius_are_never_all_laid_in_a_square(count, radius):
    stock = [Log(id=f"L{n}", stem="S", diameter=2 * 1.002 * radius - JOINT) for n in range(count)]
    layout = lay_panel(
        Face(name="n", outline=box(1.0, 1.0)), stock, joint=JOINT, joint_least=JOINT, joint_largest=JOINT,
        edge=JOINT / 2, seed=1, effort="draft",
    )  # fmt: skip
    assert len(layout.placements) < count


@pytest.mark.parametrize(("width", "height"), [(1.1, 0.9), (1.6, 0.6)])
def test_equal_logs_laid_never_pass_the_bound_on_their_number(width, height):
    pitch = 0.15
    stock = [Log(id=f"L{n}", stem="S", diameter=pitch - JOINT) for n in range(80)]
    layout = lay_panel(
        Face(name="n", outline=box(width, height)), stock, joint=JOINT, joint_least=JOINT, joint_largest=JOINT,
        edge=JOINT / 2, seed=1, effort="draft",
    )  # fmt: skip
    assert judge(layout, stock, joint=JOINT, joint_least=JOINT, edge=JOINT / 2) == ()
    a, b = (width - pitch) / pitch, (height - pitch) / pitch
    assert 0.75 * oler(a * b, 2 * (a + b)) < len(layout.placements) <= oler(a * b, 2 * (a + b))
