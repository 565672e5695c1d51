"""G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014.

First five outputs of the reference program for the seed 1234567, as many implementations print them.
"""

import numpy as np

from cordwright.site._kernels import day_bits
from cordwright.site.weather_days import scattered

OUTPUTS = (
    6457827717110365317,
    3203168211198807973,
    9817491932198370423,
    4593380528125082431,
    16408922859458223821,
)


def test_the_days_bits_are_the_outputs_of_the_reference() -> None:
    with np.errstate(over="ignore"):
        assert tuple(int(day_bits(np.uint64(1234567), n)) for n in range(1, 6)) == OUTPUTS


def test_all_seasons_at_once_are_scattered_alike() -> None:
    with np.errstate(over="ignore"):
        states = np.uint64(1234567) + np.arange(1, 6, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)
    assert tuple(int(bits) for bits in scattered(states)) == OUTPUTS
