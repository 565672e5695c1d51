"""Loose fills as measured (`granum-1951`, `kosinski-2022`) and mortars (`tinker-mortars`): within our low and high.

Granum 1951 in Berge, The Ecology of Building Materials, Table 14.6; Kosiński et al. 2022, hemp shives 0.049 to 0.052;
Tinker and O'Rourke, usual value of mortar 0.84 with a spread over 35 %.
"""

import pytest

from cordwright.heat.conductivity import row

MEASURED = [
    ("sawdust", 0.071),
    ("sawdust", 0.081),
    ("wood shavings", 0.080),
    ("wood shavings", 0.070),
    ("wood shavings", 0.060),
    ("wood shavings", 0.120),
    ("shives", 0.049),
    ("shives", 0.052),
]


@pytest.mark.parametrize(("fill", "measured"), MEASURED)
def test_measured_fills_lie_within_the_spread(fill: str, measured: float) -> None:
    found = row("fill", fill)
    assert found.low <= measured <= found.high


def test_mortar() -> None:
    found = row("mortar")
    assert found.value == 0.84
    assert found.high / found.low >= 1.35
