"""How is this owner's book lettered? Units, language, and the numbers of the sources, carried to every sheet."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from cordwright.base import Check, Cite, Figure, Step, Value
from cordwright.base.units import is_figure_unit
from cordwright.book import formats
from cordwright.book.formats import Units
from cordwright.case import Project
from cordwright.mortar import Advice
from cordwright.reckon import Reckoning


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """Shows values in the owner's system and language, and tags them with their sources."""

    units: Units
    locale: str
    tags: Mapping[str, int]

    def value(self, value: Value | None, unit: str) -> str:
        """A value with its unit."""
        return formats.show_value(value, unit, self.units, self.locale)

    def day(self, value: date | None) -> str:
        """A day and its month without the year; a dash where there is none."""
        return "–" if value is None else formats.show_day(value, self.locale)

    def month(self, value: date) -> str:
        """The name of a day's month."""
        return formats.show_month(value, self.locale)

    def advice(self, advice: Advice) -> str:
        """A sentence of advice with its amounts in the owner's units."""
        return advice.words.format(*(self.value(value, unit) for value, unit in advice.amounts))

    def figure(self, figure: Figure) -> str:
        """A figure with its spread."""
        return formats.show_figure(figure, self.units, self.locale)

    def middle(self, figure: Figure) -> str:
        """A figure without its spread."""
        return formats.show_middle(figure, self.units, self.locale)

    def spread(self, figure: Figure) -> str:
        """A figure's spread."""
        return formats.show_spread(figure, self.units, self.locale)

    def margin(self, check: Check) -> str:
        """A check's margin in words."""
        return formats.show_margin(check, self.units, self.locale)

    def bare(self, value: float | None, unit: str, decimals: int | None = None) -> str:
        """A number for a column headed by its unit."""
        return formats.show_in(value, unit, self.units, self.locale, decimals)

    def size(self, length: float) -> str:
        """A length as it stands on a drawing."""
        return formats.show_millimetres(length, self.locale, self.units)

    def count(self, number: float) -> str:
        """A count or a number of parts, with no more decimals than it has."""
        return formats.show_count(number, self.locale)

    def sign(self, unit: str) -> str:
        """The sign of a unit in the owner's system."""
        return formats.unit_of(unit, self.units)[0]

    @property
    def size_sign(self) -> str:
        """The unit of the lengths on a drawing."""
        return "ft in" if self.units == "imperial" else "mm"

    def tag(self, cites: Iterable[Cite]) -> str:
        """The numbers of some sources: "[1, 4–7]"."""
        numbers = sorted({self.tags[c.key] for c in cites if c.key in self.tags})
        runs = [[n for _, n in run] for _, run in groupby(enumerate(numbers), lambda pair: pair[1] - pair[0])]
        said = [str(r[0]) if len(r) == 1 else f"{r[0]}{'–' if len(r) > 2 else ', '}{r[-1]}" for r in runs]
        return f"[{', '.join(said)}]" if said else ""

    def step(self, step: Step) -> str:
        """The value of one line of a working, with its unit; a dash where the line says in words how it goes."""
        if step.value is None:
            return "–"
        if step.unit and is_figure_unit(step.unit):
            return self.value(step.value, step.unit)
        number = formats.show_figures(step.value, self.locale)
        return f"{number}{formats.NB}{step.unit}" if step.unit else number


def plain_lettering(project: Project) -> Lettering:
    """Lettering without sources' numbers, for what stands on a screen or a terminal."""
    return Lettering(units=project.units, locale=project.locale, tags={})


def capped(words: str) -> str:
    """The words with a capital at their head, as they stand at the head of a row."""
    return words[:1].upper() + words[1:]


def counted(name: str) -> list[str | int]:
    """A name as words and numbers in turn, so that T2-9 comes before T2-10."""
    return [int(part) if n % 2 else part for n, part in enumerate(re.split(r"(\d+)", name))]


def lettering_of(project: Project, reckoning: Reckoning, also: Iterable[Cite] = ()) -> Lettering:
    """The lettering of one book; sources are numbered in the order in which they first speak."""
    tags: dict[str, int] = {}
    for each in (*cites_in(project, reckoning), *also):
        tags.setdefault(each.key, len(tags) + 1)
    return Lettering(units=project.units, locale=project.locale, tags=tags)


def cites_in(project: Project, reckoning: Reckoning) -> Iterator[Cite]:
    """Every place in a source that this book's numbers and cautions stand on."""
    entries: tuple[Figure | Check, ...] = (*reckoning.figures, *reckoning.checks)
    for entry in entries:
        yield from entry.sources
        yield from (s.source for s in entry.steps if s.source is not None)
    for caution in reckoning.cautions:
        yield from caution.sources
    yield from (rule.cite for rule in project.site.rules)
