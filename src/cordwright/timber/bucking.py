"""Where does the saw go along each stem, so that it gives the most log ends, and of these the most face?

All log ends have one length. Between two neighbours the saw takes its kerf; the trims at the stem's ends already hold
their cuts. Nothing of a defect may end up in a log end; the cuts that free it lie in the waste.

Which starts need looking at? In any plan take the log end nearest the butt and shift it towards the butt until it meets
the trim, a defect's end or (for the later ones) its neighbour's kerf; go on with the next. No log end is lost and,
since a stem tapers, none gets thinner. So some best plan has only starts that lie a whole number of (length + kerf)
beyond the butt trim or beyond a defect's end: a few to each stem. Dynamic programming over them, from the top down, is
exact. Stems thicker at the top are refused.

Sources: closed form (`butt-justified-cuts`, `stick-cutting`); even taper, the fit and the slice of a fresh cut are
assumptions.
"""

import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final, Self

from cordwright.base import InputError, table
from cordwright.timber.inputs import Stem, TimberInput
from cordwright.timber.results import Piece, StemCut
from cordwright.timber.volumes import face_area

ROUNDING: Final = 1e-9
"""Two ways to add up the same lengths [m] differ by less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawing:
    """How a stem is cut: log-end length, kerf, trim at each end and least diameter, bark off [m]; bark factor [1]."""

    length: float
    kerf: float = 0.0
    end_trim: float = 0.0
    least_diameter: float = 0.0
    bark_factor: float = 1.0

    @classmethod
    def of(cls, timber: TimberInput, log_end_length: float) -> Self:
        """The owner's way of cutting.

        Args:
            timber: the stock as stated.
            log_end_length: the wall's one length [m].
        """
        return cls(
            length=log_end_length,
            kerf=timber.kerf,
            end_trim=timber.end_trim,
            least_diameter=timber.least_diameter,
            bark_factor=bark_factor(timber),
        )

    @property
    def pitch(self) -> float:
        """From one log end's start to the next one's at the least [m]."""
        return self.length + self.kerf

    @property
    def retrimmed(self) -> "Sawing":
        """The same, with both stick ends cut fresh.

        Sources: assumption (`retrim-slice`).
        """
        return replace(self, end_trim=self.end_trim + self.kerf + float(table("stock")["retrim"]["slice"]))


def bark_factor(timber: TimberInput) -> float:
    """Diameter without bark over diameter with bark [1]: the owner's, else as remembered."""
    return float(table("stock")["bark"]["factor"]) if timber.bark_factor is None else timber.bark_factor


def diameter_at(stem: Stem, place: float) -> float:
    """Diameter of a stem as measured, tapering evenly [m].

    Args:
        stem: with its two end diameters.
        place: distance from the butt [m].

    Sources: assumption (`even-taper`).
    """
    return stem.butt_diameter + (stem.top_diameter - stem.butt_diameter) * place / stem.length


def pieces_of_clean_stick(stick: float, piece: float, kerf: float) -> int:
    """Count the pieces a stick without defects gives when no end is trimmed.

    Args:
        stick: length of the stick, its trims already taken off [m].
        piece: length of one piece [m].
        kerf: lost at each cut between two pieces [m].

    Sources: closed form (`stick-cutting`), n = floor((L + kerf) / (piece + kerf)); the fit is an assumption.
    """
    return max(0, math.floor((stick + kerf + _slack()) / (piece + kerf)))


@cache
def _slack() -> float:
    return float(table("stock")["fit"]["slack"])


def cut_stem(stem: Stem, sawing: Sawing) -> StemCut:
    """Cut one stem: most log ends, then most face.

    Args:
        stem: as measured.
        sawing: how it is cut.

    Raises:
        InputError: a size no stem or saw can have, or a top thicker than the butt.

    Sources: closed form (`butt-justified-cuts`).
    """
    _refuse(stem, sawing)
    starts = _best_starts(stem, sawing)
    pieces = tuple(_piece(stem, k, start, sawing.length) for k, start in enumerate(starts, start=1))
    return StemCut(
        stem=stem,
        pieces=pieces,
        offcut=_offcut(stem, sawing, len(pieces)),
        short_if_retrimmed=_is_short_if_retrimmed(stem, sawing, len(pieces)),
    )


def cut_stems(timber: TimberInput, log_end_length: float) -> tuple[StemCut, ...]:
    """Cut every stem of the stock, one of each alike.

    Args:
        timber: the stock as stated.
        log_end_length: the wall's one length [m].
    """
    sawing = Sawing.of(timber, log_end_length)
    return tuple(cut_stem(stem, sawing) for stem in timber.stems)


def _refuse(stem: Stem, sawing: Sawing) -> None:
    sizes = (stem.length, stem.butt_diameter, stem.top_diameter, sawing.length, sawing.bark_factor)
    if min(sizes) <= 0 or min(sawing.kerf, sawing.end_trim, sawing.least_diameter) < 0:
        raise InputError(f"stem {stem.name}: a length, diameter or saw cut is not positive")
    if stem.top_diameter > stem.butt_diameter:
        raise InputError(f"stem {stem.name}: the top is thicker than the butt")


def _piece(stem: Stem, number: int, start: float, length: float) -> Piece:
    middle = diameter_at(stem, start + length / 2)
    return Piece(id=f"{stem.name}-{number}", start=start, end=start + length, diameter=middle)


def _offcut(stem: Stem, sawing: Sawing, count: int) -> float:
    if not count:
        return stem.length
    used = 2 * sawing.end_trim + count * sawing.length + (count - 1) * sawing.kerf
    return max(0.0, stem.length - used)  # within the slack of the fit


def _is_short_if_retrimmed(stem: Stem, sawing: Sawing, count: int) -> bool:
    """Whether fresh cuts at both ends cost a log end; where trims are stated they are counted already."""
    return sawing.end_trim == 0 and count > len(_best_starts(stem, sawing.retrimmed))


def _best_starts(stem: Stem, sawing: Sawing) -> tuple[float, ...]:
    """Starts of the best plan's log ends, butt first [m]."""
    starts = sorted({start for start in _starts(stem, sawing) if _is_sound(stem, sawing, start)})
    if not stem.defects:
        return tuple(starts)  # one chain of neighbours: all of them
    areas = [face_area(diameter_at(stem, start + sawing.length / 2)) for start in starts]
    return tuple(starts[i] for i in _best_chain(starts, areas, sawing.pitch))


def _best_chain(starts: Sequence[float], areas: Sequence[float], pitch: float) -> Iterator[int]:
    """Dynamic programming from the top down: of each start on, the most log ends, then the most face.

    Where two plans are alike, the one that begins nearer the butt.
    """
    following = [bisect_left(starts, start + pitch - ROUNDING) for start in starts]
    best = [(0, 0.0, -len(starts))] * (len(starts) + 1)  # log ends, face, first start (negative, so that less is more)
    for i in reversed(range(len(starts))):
        count, area, _ = best[following[i]]
        best[i] = max((count + 1, area + areas[i], -i), best[i + 1])
    i = -best[0][2]
    while i < len(starts):
        yield i
        i = -best[following[i]][2]


def _starts(stem: Stem, sawing: Sawing) -> Iterator[float]:
    """Whole steps of (length + kerf) beyond the butt trim and beyond each defect's end [m]."""
    last = stem.length - sawing.end_trim - sawing.length + _slack()
    anchors = (sawing.end_trim, *(d.end for d in stem.defects if d.end > sawing.end_trim))
    for anchor in anchors:
        steps = math.floor((last - anchor) / sawing.pitch)
        yield from (anchor + step * sawing.pitch for step in range(steps + 1))


def _is_sound(stem: Stem, sawing: Sawing, start: float) -> bool:
    """Whether a log end may begin here: thick enough and clear of every defect."""
    end, slack = start + sawing.length, _slack()
    thickness = diameter_at(stem, start + sawing.length / 2) * (sawing.bark_factor if stem.bark else 1.0)
    clear = all(end <= d.start + slack or start >= d.end - slack for d in stem.defects)
    return clear and thickness >= sawing.least_diameter - slack
