"""How does it read at the command line what a lift takes, and what a day of laying needs?"""

from collections.abc import Iterator

from cordwright.book.formats import show_number, show_value
from cordwright.case import Project
from cordwright.mortar import Mix
from cordwright.wall.day import Needs, Supplies, day_needs, needs_of
from cordwright.wall.placed import PlacedPanel, PlacedWall


def supplies_of(project: Project, mix: Mix | None) -> Supplies:
    """What the owner mixes and fills with."""
    return Supplies(stated=project.mortar, mix=mix, fill=project.wall.fill)


def needs_lines(project: Project, mix: Mix | None, placed: PlacedWall, area: float | None) -> Iterator[str]:
    """Give what each lift takes, then what a day needs in each panel if an area is asked for.

    Args:
        project: the owner's case, for units, language, mix and fill.
        mix: the mix worked out, None when none is stated.
        placed: the laid wall.
        area: face of a day [m2], None when none is asked for.
    """
    supplies = supplies_of(project, mix)
    yield "what each lift takes, waste included"
    for panel in placed.panels:
        for lift in panel.lifts:
            needs = needs_of(panel.panel, lift.logs, lift.taken, supplies)
            yield f"  {panel.panel:<12} lift {lift.number}: {_said(project, needs)}"
        if panel.carried is not None:
            needs = needs_of(panel.panel, (), panel.carried, supplies)
            yield f"  {panel.panel:<12} not laid, at the mean of the laid part: {_said(project, needs)}"
    if area is not None:
        yield f"a day of {show_value(area, 'm2', project.units, project.locale)}, from the next log that is not laid"
        for panel in placed.panels:
            yield from _day(project, panel, area, supplies)


def _day(project: Project, panel: PlacedPanel, area: float, supplies: Supplies) -> Iterator[str]:
    done = frozenset(row.log for row in project.wall.wishes.laid)
    needs = day_needs(panel, area, supplies, done)
    if not needs.logs:
        yield f"  {panel.panel:<12} nothing is left to lay"
        return
    yield f"  {panel.panel:<12} {_said(project, needs)}"
    yield f"  {'':<12} {', '.join(needs.logs)}"


def _said(project: Project, needs: Needs) -> str:
    return ", ".join(said_needs(project, needs))


def said_needs(project: Project, needs: Needs) -> tuple[str, ...]:
    """What a piece of wall needs, a phrase each; what is not known is left out."""
    units, locale = project.units, project.locale
    words = [show_value(needs.area, "m2", units, locale)]
    if needs.logs:
        mass = "" if needs.log_mass is None else f" ({show_value(needs.log_mass, 'kg', units, locale)})"
        words.append(f"{len(needs.logs)} log ends{mass}")
    words.append(f"mortar {litres(project, needs.mortar)}{_batches(project, needs)}")
    masses = (("cement", needs.cement), ("lime", needs.lime), ("dry sand", needs.dry_sand))
    words += [f"{name} {show_value(m, 'kg', units, locale)}" for name, m in masses if m]
    if needs.fill > 0:
        words.append(f"fill {litres(project, needs.fill)}")
    return tuple(words)


def _batches(project: Project, needs: Needs) -> str:
    if needs.batches is None or needs.buckets is None:
        return ""
    buckets = ", ".join(f"{show_number(n, 1, project.locale)} {name}" for name, n in needs.buckets.items())
    return f" = {show_number(needs.batches, 1, project.locale)} batches (buckets: {buckets})"


def litres(project: Project, volume: float) -> str:
    """A volume [m3] as it is carried: in litres, or cubic feet."""
    if project.units == "imperial":
        return f"{show_number(volume / 0.3048**3, 1, project.locale)} ft³"
    return f"{show_number(volume * 1000, 0, project.locale)} l"
