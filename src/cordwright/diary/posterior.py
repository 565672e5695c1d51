"""How fast do I really go? A rate as expected, and what own days make of it.

Rates are lognormal: twice as fast is as likely as half as fast, and none is negative. With few days the scatter of a
day is taken as known and the answer is a normal on the log scale; from eight days on the scatter is learnt from them
too and the answer is Student's t. The newest eight days count whole, each older one five per cent less than the next,
so that the clumsy first days do not drag for ever.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from cordwright.base import Cite, InputError
from cordwright.diary.inputs import Guess

SCATTER: Final = 0.25
"""Standard deviation of one whole day on the log scale [1]: assumption (`pace-scatter`)."""
LEARNT_FROM: Final = 8
"""So many days until their own scatter is learnt; the assumed one then weighs as much as so many days."""
DISCOUNT: Final = 0.95
LEADS_FROM: Final = 3
"""From the third day on the owner's own rate leads the expectation."""
LOW: Final = 0.1
HIGH: Final = 0.9
"""The spread shown holds four chances in five."""

KNOWN: Final = Cite("hoff-2009", "5.2, known variance")
LEARNT: Final = Cite("hoff-2009", "5.3, joint inference for mean and variance")
SCATTER_CITE: Final = Cite("pace-scatter", "0.25 on the log scale, eight days, five per cent a day")


@dataclass(frozen=True, slots=True, kw_only=True)
class Observed:
    """One day's rate, and how much of a whole day it stands on [1]: half a day tells half as much."""

    rate: float
    whole: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Posterior:
    """What is believed of a rate: `middle` and `scale` on the log scale, `freedom` of the t (None: a normal).

    `own`: the share of the belief that own days carry [1]; `days`: how many there were.
    """

    middle: float
    scale: float
    freedom: float | None
    own: float
    days: int

    @property
    def leads(self) -> bool:
        """Whether own days lead the expectation."""
        return self.days >= LEADS_FROM

    @property
    def median(self) -> float:
        """As likely exceeded as not."""
        return math.exp(self.middle)

    @property
    def spread(self) -> float:
        """Standard deviation on the log scale; a t is wider than its scale."""
        if self.freedom is None:
            return self.scale
        return self.scale * math.sqrt(self.freedom / (self.freedom - 2))

    @property
    def mean(self) -> float:
        """Mean of the lognormal of this middle and spread."""
        return math.exp(self.middle + self.spread**2 / 2)

    @property
    def sd(self) -> float:
        """Standard deviation of that lognormal."""
        return self.mean * math.sqrt(math.expm1(self.spread**2))

    def quantile(self, chance: float) -> float:
        """The rate that is exceeded with one less this chance.

        Args:
            chance: between 0 and 1 [1].
        """
        if self.freedom is None:
            from statistics import NormalDist

            steps = NormalDist().inv_cdf(chance)
        else:
            from scipy.special import stdtrit

            steps = float(stdtrit(self.freedom, chance))
        return math.exp(self.middle + self.scale * steps)

    @property
    def cites(self) -> tuple[Cite, ...]:
        """By which rule it came about."""
        return (KNOWN if self.freedom is None else LEARNT, SCATTER_CITE)


def believe(guess: Guess, observed: Sequence[Observed], scatter: float = SCATTER) -> Posterior:
    """Update an expectation by own days, oldest first.

    Args:
        guess: the mean and standard deviation expected.
        observed: own days in order.
        scatter: standard deviation of a whole day on the log scale while it is not learnt [1].

    Raises:
        InputError: a rate or a part of a day that is not positive.

    Sources: `hoff-2009` (normal with conjugate prior, known and learnt variance); weights by `pace-scatter`.
    """
    if guess.mean <= 0 or guess.sd <= 0 or any(o.rate <= 0 or o.whole <= 0 for o in observed):
        raise InputError("a rate, its spread and the part of a day it stands on are more than nothing")
    spread = math.log1p((guess.sd / guess.mean) ** 2)
    middle = math.log(guess.mean) - spread / 2
    worth = scatter**2 / spread
    if len(observed) < LEARNT_FROM:
        return _known(middle, worth, observed, scatter)
    return _learnt(middle, worth, observed, scatter)


def fading(count: int) -> tuple[float, ...]:
    """How much each of so many days counts [1], oldest first.

    Sources: assumption (`pace-scatter`).
    """
    return tuple(DISCOUNT ** max(0, count - LEARNT_FROM - n) for n in range(count))


def _known(middle: float, worth: float, observed: Sequence[Observed], scatter: float) -> Posterior:
    """The mean by precision: `worth` is the expectation counted in whole days."""
    days = math.fsum(o.whole for o in observed)
    told = math.fsum(o.whole * math.log(o.rate) for o in observed)
    return Posterior(
        middle=(worth * middle + told) / (worth + days),
        scale=scatter / math.sqrt(worth + days),
        freedom=None,
        own=days / (worth + days),
        days=len(observed),
    )


def _learnt(middle: float, worth: float, observed: Sequence[Observed], scatter: float) -> Posterior:
    """Mean and variance together; the assumed scatter weighs as LEARNT_FROM days."""
    fades = fading(len(observed))
    weights = [o.whole * f for o, f in zip(observed, fades, strict=True)]
    logs = [math.log(o.rate) for o in observed]
    joint = joint_update(
        mean=middle, worth=worth, variance=scatter**2, freedom=LEARNT_FROM, values=logs, weights=weights, counts=fades
    )
    days = math.fsum(weights)
    return Posterior(
        middle=joint.mean,
        scale=math.sqrt(joint.variance / joint.worth),
        freedom=joint.freedom,
        own=days / (worth + days),
        days=len(observed),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Belief of a mean worth so many values, and of a variance of so many degrees of freedom."""

    mean: float
    worth: float
    variance: float
    freedom: float


def joint_update(
    *,
    mean: float,
    worth: float,
    variance: float,
    freedom: float,
    values: Sequence[float],
    weights: Sequence[float],
    counts: Sequence[float],
) -> Joint:
    """Update the belief of a normal's mean and variance by weighted values.

    Args:
        mean: expected.
        worth: how many values that expectation is worth.
        variance: expected of a value of weight one.
        freedom: how many values that expectation is worth.
        values: observed, shape (n,).
        weights: precision of each in units of a whole one, shape (n,).
        counts: how much of an observation each is, shape (n,).

    Sources: `hoff-2009`, 5.3; with all weights one it is that formula.
    """
    total = math.fsum(weights)
    own = math.fsum(w * v for w, v in zip(weights, values, strict=True)) / total
    within = math.fsum(w * (v - own) ** 2 for w, v in zip(weights, values, strict=True))
    between = worth * total / (worth + total) * (own - mean) ** 2
    more = freedom + math.fsum(counts)
    return Joint(
        mean=(worth * mean + total * own) / (worth + total),
        worth=worth + total,
        variance=(freedom * variance + within + between) / more,
        freedom=more,
    )
