"""How much wood is in a round stem or log end?

A stem that tapers evenly is the frustum of a cone, and that is the volume taken. The forester's other rules stand
beside it: for the same log they show how far the shape of a stem may move its volume.

Sources: University of Missouri forestry functions (`missouri-log-volume`) for Smalian, cone and neiloid; closed forms.
"""

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Size = TypeVar("Size", float, NDArray[np.float64])
"""One size, or an array of them of any one shape."""


def face_area(diameter: Size) -> Size:
    """Area of a round face [m2].

    Args:
        diameter: of the face [m].
    """
    return diameter * diameter * (math.pi / 4)


def cone_frustum(butt: Size, top: Size, length: Size) -> Size:
    """Volume of a log that tapers evenly [m3].

    Args:
        butt: diameter at one end [m].
        top: diameter at the other [m].
        length: of the log [m].

    Sources: closed form; University of Missouri forestry functions (`missouri-log-volume`).
    """
    return length * (butt * butt + butt * top + top * top) * (math.pi / 12)


def smalian(butt: Size, top: Size, length: Size) -> Size:
    """Volume by the mean of the two end faces: high for a cone [m3].

    Args:
        butt: diameter at one end [m].
        top: diameter at the other [m].
        length: of the log [m].

    Sources: University of Missouri forestry functions (`missouri-log-volume`).
    """
    return length * (face_area(butt) + face_area(top)) / 2


def neiloid(butt: Size, top: Size, length: Size) -> Size:
    """Volume of a log that flares like the foot of a tree: low for a cone [m3].

    Args:
        butt: diameter at one end [m].
        top: diameter at the other [m].
        length: of the log [m].

    Sources: University of Missouri forestry functions (`missouri-log-volume`).
    """
    first, last = face_area(butt), face_area(top)
    between: Size = (first * first * last) ** (1 / 3) + (first * last * last) ** (1 / 3)
    return length * (first + between + last) / 4


def huber(middle: Size, length: Size) -> Size:
    """Volume by the face at mid-length: low for a cone [m3].

    Args:
        middle: diameter at mid-length [m].
        length: of the log [m].

    Sources: closed form.
    """
    return length * face_area(middle)


def newton(butt: Size, middle: Size, top: Size, length: Size) -> Size:
    """Volume by end faces and mid-length face as 1 : 4 : 1: exact for a cone and for a neiloid alike [m3].

    Args:
        butt: diameter at one end [m].
        middle: diameter at mid-length [m].
        top: diameter at the other end [m].
        length: of the log [m].

    Sources: closed form (Simpson's rule).
    """
    return length * (face_area(butt) + 4 * face_area(middle) + face_area(top)) / 6
