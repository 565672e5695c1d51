"""What do the stages themselves find wrong with what the owner states?"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from cordwright import cost, mortar, plan, site, timber, wall
from cordwright.base import CordwrightError, Figure
from cordwright.case import Project
from cordwright.cost.inputs import CostInput
from cordwright.heat.faults import find_wall_heat_faults
from cordwright.heat.inputs import HeatInput
from cordwright.mortar.inputs import MortarInput
from cordwright.plan.inputs import PlanInput
from cordwright.project.faults import Findings, shown
from cordwright.project.schema import ProjectTable
from cordwright.reckon import Reckoning, reckon
from cordwright.site.inputs import SiteInput
from cordwright.timber.inputs import TimberInput
from cordwright.wall.inputs import WallInput, Wishes

COST: Final = "cost."
UNWORKABLE: Final = "the building cannot be worked out as it stands; look at the sizes named"


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """The stages' inputs as far as they could be read, and the SI unit of each price row's `unit`."""

    site: SiteInput | None
    plan: PlanInput | None
    timber: TimberInput | None
    mortar: MortarInput | None
    wall: WallInput | None
    heat: HeatInput | None
    cost: CostInput | None
    price_units: tuple[str, ...]


def note_stage_faults(named: ProjectTable | None, inputs: Inputs, findings: Findings) -> Project | None:
    """Let each stage look at its input as soon as that is whole; give the case when all are."""
    if inputs.site is not None:
        findings.take(site.find_month_faults(inputs.site))
        findings.take(site.find_weather_faults(inputs.site))
    if inputs.plan is not None:
        findings.take(plan.find_faults(inputs.plan))
    if inputs.plan is not None and inputs.timber is not None:
        findings.take(timber.find_faults(inputs.timber, inputs.plan.section.log_end_length))
    if inputs.mortar is not None:
        findings.take(mortar.find_faults(inputs.mortar))
    if inputs.heat is not None and inputs.plan is not None:
        findings.take(find_wall_heat_faults(inputs.heat.wall, inputs.plan.section))
    project = _whole(named, inputs)
    if project is not None and not findings.errors:
        _note_joint_faults(project, inputs.price_units, findings)
    return project


def _whole(named: ProjectTable | None, inputs: Inputs) -> Project | None:
    stages = ("site", "plan", "timber", "mortar", "wall", "heat", "cost")
    parts: dict[str, Any] = {name: getattr(inputs, name) for name in stages}
    if named is None or None in parts.values():
        return None
    return Project(
        name=named.name,
        units=named.units,
        locale=named.locale,
        revision=named.revision,
        notes=named.notes,
        **parts,
    )


def _note_joint_faults(project: Project, price_units: tuple[str, ...], findings: Findings) -> None:
    """Look at what needs the building worked out: joints on curves, prices and rules that name figures."""
    try:
        done = reckon(_bare(project))
    except CordwrightError as refusal:
        _note_refusal(project, refusal, findings)
        return
    _note_wall_faults(project, done.plan, done.timber, findings)
    if findings.errors:
        return
    try:
        figures = _figures_named(project, done)
    except CordwrightError as refusal:
        findings.add("file", str(refusal), UNWORKABLE)
        return
    _note_figure_faults(project, price_units, figures, findings)


def _unpriced(project: Project) -> Project:
    """The case without what names its figures."""
    return replace(project, cost=replace(project.cost, rows=()), site=replace(project.site, rules=()))


def _bare(project: Project) -> Project:
    """The case without the slow parts too: the drying, which stands on the months, and the blends of the sands."""
    named = _unpriced(project)
    return replace(named, site=replace(named.site, months=None), mortar=replace(named.mortar, sands=()))


def _figures_named(project: Project, bare: Reckoning) -> Mapping[str, Figure]:
    """The figures among which prices and rules name theirs: all of them only where the bare ones do not hold those."""
    named = {row.covers for row in project.cost.rows} | {rule.limits for rule in project.site.rules}
    quick = {f.key: f for f in bare.figures}
    if all(name in quick or name.startswith(COST) for name in named if name):
        return quick
    return {f.key: f for f in reckon(_unpriced(project)).figures}


def _note_wall_faults(project: Project, built: plan.Plan, wood: timber.Timber, findings: Findings) -> None:
    findings.take(wall.find_faults(project.wall, built, project.plan.section, wood.stock.diameter))
    if project.wall.wishes != Wishes():
        _note_wish_faults(project, built, wood, findings)


def _note_wish_faults(project: Project, built: plan.Plan, wood: timber.Timber, findings: Findings) -> None:
    # Loaded only where something is wished: to check a plain file takes none of it.
    from cordwright.wall.faces import faces_of, logs_of
    from cordwright.wall.wish_faults import find_wish_faults

    stock = wood.stock
    joints = project.wall.joints
    findings.take(find_wish_faults(project.wall.wishes, faces_of(built), logs_of(stock), frozenset(stock.id), joints))


def _note_refusal(project: Project, refusal: CordwrightError, findings: Findings) -> None:
    """Say why the building cannot be worked out: by the wall's own faults if it has any, else as it was refused."""
    section, stated = project.plan.section, project.wall
    try:
        built = plan.reckon_plan(project.plan)
        net_area = built.figure("plan.net_wall_area").value
        assert isinstance(net_area, float)
        wood = timber.reckon_timber(
            project.timber,
            log_end_length=section.log_end_length,
            net_area=net_area,
            wood_fraction=stated.wood_fraction,
            wood_fraction_low=stated.wood_fraction_low,
            wood_fraction_high=stated.wood_fraction_high,
        )
        _note_wall_faults(project, built, wood, findings)
    except CordwrightError as earlier:
        refusal = earlier
    if not findings.errors:
        findings.add("file", str(refusal), UNWORKABLE)


def _note_figure_faults(
    project: Project, price_units: tuple[str, ...], figures: Mapping[str, Figure], findings: Findings
) -> None:
    findings.take(cost.find_faults(project.cost, figures.keys()))
    for i, (row, unit) in enumerate(zip(project.cost.rows, price_units, strict=True)):
        covered = figures.get(row.covers)
        if covered is not None and row.unit_text and unit != covered.unit:
            wanted = f"an amount in {covered.unit}" if covered.unit else "a count, such as 100"
            message = f"{shown(row.unit_text)} does not measure {row.covers}"
            findings.add(f"prices[{i}].unit", message, f"write {wanted}")
    findings.take(site.find_faults(project.site, [*figures, *_cost_keys(project, figures, findings)]))


def _cost_keys(project: Project, figures: Mapping[str, Figure], findings: Findings) -> tuple[str, ...]:
    """Keys of the sums that a sound price list gives; of a faulty one those that rules name are taken as they stand."""
    if findings.errors:
        return tuple(rule.limits for rule in project.site.rules if rule.limits.startswith(COST))
    return tuple(f.key for f in cost.reckon_cost(project.cost, figures).figures)
