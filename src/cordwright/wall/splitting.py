"""Which rounds are cleaved, and into what? Those too large for their place, those over a size and those named.

A round is cleaved with wedges along its middle, so that nothing is lost and its halves or quarters are alike. It is
used whole or as its pieces, never both.

Sources: common practice (`cleaving`).
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from cordwright.base import Cite, InputError
from cordwright.wall.inputs import Splitting
from cordwright.wall.layout import Log

CLEAVING: Final = Cite("cleaving", "cleft with wedges: nothing is lost")
PIECES: Final = {"half": "ab", "quarter": "abcd"}


def cleave(stock: Sequence[Log], rule: Splitting | None, widest: float) -> tuple[Log, ...]:
    """Give the stock with some rounds cleaved: those over a size, those that fit nowhere whole and those named.

    The pieces of `S3-4` are `S3-4a`, `S3-4b` and so on; each knows its parent, whose diameter it keeps. A split that is
    named stays as it is; nothing is cleaved without a rule.

    Args:
        stock: log ends, ids unique.
        rule: what the owner wants cleaved, and into what; None cleaves nothing.
        widest: diameter of the largest round that fits into any panel [m].

    Raises:
        InputError: a log is named that is not in the stock, or a piece would bear the id of another log.

    Sources: common practice (`cleaving`).
    """
    if rule is None:
        return tuple(stock)
    _refuse_unknown(stock, rule)
    cleaved = tuple(piece for log in stock for piece in _pieces(log, rule, widest))
    ids = [log.id for log in cleaved]
    twice = sorted({i for i in ids if ids.count(i) > 1}) if len(set(ids)) < len(ids) else []
    if twice:
        raise InputError(f"a piece cleaved would bear the id of another log: {', '.join(twice)}")
    return cleaved


def _refuse_unknown(stock: Sequence[Log], rule: Splitting) -> None:
    unknown = sorted(set(rule.logs) - {log.id for log in stock})
    if unknown:
        raise InputError(f"to be split, but not in the stock: {', '.join(unknown)}")


def _pieces(log: Log, rule: Splitting, widest: float) -> tuple[Log, ...]:
    over = rule.over is not None and log.diameter > rule.over
    if log.shape != "round" or not (over or log.diameter > widest or log.id in rule.logs):
        return (log,)
    return tuple(replace(log, id=log.id + letter, shape=rule.into, parent=log.id) for letter in PIECES[rule.into])


def kin_of(used: Iterable[Log], stock: Iterable[Log]) -> set[str]:
    """Ids of the logs in stock that can no longer be: the pieces of a round that is used, the round of a piece.

    Args:
        used: logs that are in the wall already.
        stock: logs in hand.
    """
    used = tuple(used)
    whole, cleft = {log.id for log in used}, {log.parent for log in used if log.parent}
    return {log.id for log in stock if log.parent in whole or log.id in cleft}
