"""How much of the product named goes on the log ends, and does its chemistry add up?

Nothing is recommended here. A dose follows from the product's own label or it does not exist.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cordwright.base import Caution, Check, Cite, Figure, Step, caution, table
from cordwright.timber.borates import (
    ACTIVES,
    as_boric_acid,
    as_oxide,
    borate_sources,
    retention_targets,
    solubility_bounds,
)
from cordwright.timber.inputs import Treatment

LABEL: Final = Cite("owner", "treatment, from the product's label")
FACE: Final = Cite("owner", "stock")
PRACTICE: Final = Cite("borate-ends-practice", "inside and out, renewed when blooms show")
WATER: Final = 1000.0
"""Density of water [kg/m3]: a solution of borates is no lighter."""

LABEL_WORDS: Final = (
    ("registration", "the product's registration number (treatment.registration)"),
    ("active", "the active named on the label (treatment.active)"),
    ("coverage", "the face one volume covers in one application (treatment.coverage)"),
    ("applications", "the applications the label asks for (treatment.applications)"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dose:
    """What goes on: face treated [m2], liquid [m3] and active [kg], None where `missing` says what is not known.

    `least` tells that the active is at least so much, for want of the liquid's density.
    """

    area: float | None
    liquid: float | None
    active: float | None
    least: bool
    missing: tuple[str, ...]


def dose_of(treatment: Treatment, face: float | None) -> Dose:
    """Work out the dose from the label.

    Args:
        treatment: as the label says.
        face: of all log ends, one side [m2]; None is unknown.

    Sources: the product's label, as the owner typed it.
    """
    missing = [words for name, words in LABEL_WORDS if not getattr(treatment, name)]
    if treatment.strength is None and treatment.strength_by_volume is None:
        missing.append("the strength on the label (treatment.strength or treatment.strength_by_volume)")
    if face is None:
        missing.append("the face of the log ends (timber.face_area)")
    area = None if face is None else face * (2 if treatment.faces == "both" else 1)
    if missing or area is None or not treatment.coverage or not treatment.applications:
        return Dose(area=area, liquid=None, active=None, least=False, missing=tuple(missing))
    liquid = area * treatment.applications / treatment.coverage
    by_mass = treatment.strength_by_volume is None
    strength = treatment.strength_by_volume or (treatment.strength or 0.0) * (treatment.density or WATER)
    return Dose(
        area=area,
        liquid=liquid,
        active=liquid * strength,
        least=by_mass and treatment.density is None,
        missing=("the liquid's density (treatment.density): water's is taken",)
        if by_mass and not treatment.density
        else (),
    )


def treatment_figures(treatment: Treatment, face: float | None) -> Iterator[Figure]:
    """Give the face to treat, the liquid, and the active in it; without a whole label there is no dose.

    Args:
        treatment: as the label says.
        face: of all log ends, one side [m2]; None is unknown.
    """
    dose = dose_of(treatment, face)
    steps = _dose_steps(treatment, dose)
    yield _figure(
        "timber.treatment_area",
        f"face of the log ends to treat, {_faces(treatment)}",
        dose.area,
        "m2",
        dose.missing if dose.area is None else (),
        steps=steps,
    )
    yield _figure(
        "timber.treatment_liquid",
        f"liquid of {treatment.product} for all applications",
        dose.liquid,
        "m3",
        dose.missing if dose.liquid is None else (),
        steps=steps,
    )
    active = treatment.active or "active"
    yield _figure(
        "timber.treatment_active",
        f"{active} in that liquid",
        dose.active,
        "kg",
        dose.missing,
        steps=steps,
        least=dose.least,
    )
    if treatment.active in ACTIVES:
        worth = None if dose.active is None else as_boric_acid(treatment.active, dose.active)
        yield _figure(
            "timber.treatment_boric_acid",
            "what that is worth as boric acid",
            worth,
            "kg",
            dose.missing,
            steps=steps,
            least=dose.least,
            also=borate_sources(treatment.active),
        )


def _faces(treatment: Treatment) -> str:
    return "both faces" if treatment.faces == "both" else "one face"


def _figure(
    key: str,
    label: str,
    value: float | None,
    unit: str,
    missing: tuple[str, ...],
    *,
    steps: tuple[Step, ...],
    least: bool = False,
    also: tuple[Cite, ...] = (),
) -> Figure:
    known = value is not None
    return Figure(
        key=key,
        label=label,
        value=value,
        unit=unit,
        missing=missing,
        sources=(LABEL, FACE, PRACTICE, *also),
        bound="at_least" if least and known else "exact" if known else "unknown",
        steps=steps if known else (),
    )


def _dose_steps(treatment: Treatment, dose: Dose) -> tuple[Step, ...]:
    strength = treatment.strength if treatment.strength_by_volume is None else treatment.strength_by_volume
    unit = "1" if treatment.strength_by_volume is None else "kg/m3"
    coverage = None if treatment.coverage is None else treatment.coverage / WATER
    return (
        Step(symbol="face to treat", value=dose.area, unit="m2", formula=f"face of all log ends, {_faces(treatment)}"),
        Step(
            symbol="applications",
            value=None if treatment.applications is None else float(treatment.applications),
            unit="",
            formula="label",
            source=LABEL,
        ),
        Step(
            symbol="covers in one application",
            value=coverage,
            unit="m2/L",
            formula="label; liquid = face x applications / it",
            source=LABEL,
        ),
        Step(symbol="strength", value=strength, unit=unit, formula="label; active = liquid x strength", source=LABEL),
    )


def treatment_checks(treatment: Treatment, face: float | None) -> tuple[Check, Check]:
    """Hold the label's strength against what dissolves, and the dose against a published retention.

    Args:
        treatment: as the label says.
        face: of all log ends, one side [m2]; None is unknown.
    """
    return _solubility_check(treatment), _retention_check(treatment, dose_of(treatment, face))


def _share(treatment: Treatment) -> float | None:
    """Active over the liquid by mass [1]; None where the label or the density is missing."""
    if treatment.strength is not None:
        return treatment.strength
    if treatment.strength_by_volume is None or treatment.density is None:
        return None
    return treatment.strength_by_volume / treatment.density


def _solubility_check(treatment: Treatment) -> Check:
    share, temperature, reason = _share(treatment), treatment.temperature, ""
    demand = None if share is None or share >= 1 else share / (1 - share)
    bounds = None
    if treatment.active not in ACTIVES:
        reason = "the active is in no row of the table of borates"
    elif demand is None:
        reason = "not known: the strength by mass, or the liquid's density"
    elif temperature is None:
        reason = "not known: the temperature of the liquid (treatment.temperature)"
    else:
        bounds = solubility_bounds(treatment.active, temperature)
        if bounds is None:
            reason = f"{temperature:g} degC lies outside the printed solubilities of {treatment.active}"
        elif bounds[0] < demand <= bounds[1]:
            reason = "the strength lies between two printed solubilities"
    capacity = None if bounds is None or demand is None else bounds[0] if demand <= bounds[0] else bounds[1]
    return Check(
        key="timber.treatment_solubility",
        label=f"{treatment.active or 'active'} over the water of the liquid against what dissolves",
        demand=demand,
        capacity=capacity,
        unit="1",
        sources=(LABEL, *borate_sources(treatment.active)),
        steps=(Step(symbol="temperature of the liquid", value=temperature, unit="degC", formula="typed", source=LABEL),)
        if temperature is not None
        else (),
        not_judged=reason,
    )


def _retention_check(treatment: Treatment, dose: Dose) -> Check:
    usual, formosan = retention_targets()
    row = table("borates")["uptake"]
    depth = row["depth"] if treatment.uptake_depth is None else treatment.uptake_depth
    seen, capacity, reason = treatment.uptake_depth is not None, None, ""
    if treatment.active not in ACTIVES:
        reason = "the active is in no row of the table of borates"
    elif dose.active is None or dose.area is None:
        reason = f"not known: {', '.join(dose.missing)}"
    else:
        capacity = as_oxide(treatment.active, dose.active) / (dose.area * depth)
    target = Cite("awpa-borate-retention", "0.17 and 0.28 lb/ft3")
    uptake = LABEL if seen else Cite("end-uptake", "5 to 20 mm")
    how = "seen on a split end" if seen else f"assumed, {1000 * row['low']:.0f} to {1000 * row['high']:.0f} mm"
    return Check(
        key="timber.treatment_retention",
        label="B2O3 left in the treated end grain against a published retention",
        demand=usual,
        capacity=capacity,
        unit="kg/m3",
        sources=(LABEL, target, *borate_sources(treatment.active), uptake),
        steps=(
            Step(symbol="uptake depth", value=depth, unit="m", formula=how, source=uptake),
            Step(symbol="target out of the rain", value=usual, unit="kg/m3", formula="0.17 lb/ft3", source=target),
            Step(
                symbol="where Formosan termites live",
                value=formosan,
                unit="kg/m3",
                formula="0.28 lb/ft3",
                source=target,
            ),
        ),
        not_judged=reason,
    )


def refused_word(product: str) -> str:
    """The word in a product's name for which it is refused; empty for none.

    Sources: caution on preservatives: waste fluids and coolants never.
    """
    return next((word for word in table("borates")["refused"]["never"] if word in product.lower()), "")


def film_word(product: str) -> str:
    """The word in a product's name that makes it a film on the wood, advised against; empty for none.

    Sources: common practice (`end-film-practice`).
    """
    words = product.lower().replace("-", " ").split()
    return next((word for word in table("borates")["refused"]["films"] if word in words), "")


def treatment_cautions() -> tuple[Caution, ...]:
    """What must be said wherever log ends are treated."""
    return (caution("preservatives"),)
