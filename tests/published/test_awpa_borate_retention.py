"""American Wood Protection Association, as a trade magazine quotes it (`awpa-borate-retention`).

Retention as B2O3 0.17 lb/ft3 = 2.72 kg/m3, 0.28 lb/ft3 = 4.49 kg/m3 where Formosan termites live; the first is 4.84
kg/m3 of boric acid, 1.38 % of a wood of 350 kg/m3.
"""

import pytest

from cordwright.timber import as_boric_acid, as_oxide, retention_targets


def test_targets() -> None:
    assert retention_targets() == pytest.approx((2.72, 4.49), abs=0.005)


def test_as_boric_acid() -> None:
    acid = retention_targets()[0] * as_boric_acid("boric acid", 1.0) / as_oxide("boric acid", 1.0)
    assert acid == pytest.approx(4.84, abs=0.005)
    assert 100 * acid / 350 == pytest.approx(1.38, abs=0.005)
