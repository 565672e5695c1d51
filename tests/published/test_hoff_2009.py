"""Mean and variance of a normal with a conjugate expectation (source `hoff-2009`, section 5.3, wing lengths of midges).

Data and expectation as read in a course's page on the example; the printed answers are remembered.
"""

import pytest

from cordwright.diary.posterior import joint_update

WINGS = (1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08)


def test_the_wings_of_nine_midges() -> None:
    joint = joint_update(
        mean=1.9, worth=1.0, variance=0.01, freedom=1.0, values=WINGS, weights=(1.0,) * 9, counts=(1.0,) * 9
    )
    assert sum(WINGS) / 9 == pytest.approx(1.804, abs=0.0005)
    assert joint.mean == pytest.approx(1.814, abs=0.0005)
    assert joint.variance == pytest.approx(0.015, abs=0.0005)
    assert (joint.worth, joint.freedom) == (10.0, 10.0)
