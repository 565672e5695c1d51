"""What does the wood come to? The stock in, everything it gives out; then how it dries, shrinks and is treated."""

from dataclasses import replace

from cordwright.base import Caution, caution
from cordwright.site import MonthlyNormals
from cordwright.timber.bucking import cut_stems
from cordwright.timber.end_treatment import treatment_cautions, treatment_checks, treatment_figures
from cordwright.timber.faces import (
    Need,
    coverage_check,
    coverage_figure,
    face_figure,
    shortfall_figures,
    supply_of,
)
from cordwright.timber.figures import stock_figures
from cordwright.timber.forecast import forecast_drying
from cordwright.timber.gaps import Building, gap_figures
from cordwright.timber.inputs import TimberInput
from cordwright.timber.lots import lots_of
from cordwright.timber.masses import mass_figures, timber_cautions
from cordwright.timber.moisture import moisture_figures
from cordwright.timber.movement import movement_figures
from cordwright.timber.results import Timber
from cordwright.timber.seasoning import dryness_check, overdry_check, seasoning_figures
from cordwright.timber.stacking import stacking_check
from cordwright.timber.stock import stock_of


def reckon_timber(
    timber: TimberInput,
    *,
    log_end_length: float,
    net_area: float,
    wood_fraction: float,
    wood_fraction_low: float,
    wood_fraction_high: float,
) -> Timber:
    """Work out the wood: cuts, log ends, face, volumes, masses, and what is short.

    Args:
        timber: the stock, without errors (see `find_faults`).
        log_end_length: the wall's one length [m].
        net_area: of the wall, openings taken off [m2].
        wood_fraction: planned share of the net area that is wood [1].
        wood_fraction_low: its low [1].
        wood_fraction_high: its high [1].

    Raises:
        InputError: a size that no stem, saw or wall can have.

    Sources: those of `bucking`, `lots`, `shrinkage`, `masses` and `faces`; the figures name them one by one.
    """
    cuts = cut_stems(timber, log_end_length)
    lots = lots_of(timber, cuts, log_end_length)
    supply = supply_of(timber, lots)
    need = Need(net_area=net_area, fraction=wood_fraction, low=wood_fraction_low, high=wood_fraction_high)
    masses = tuple(mass_figures(timber, lots, cuts))
    return Timber(
        cuts=cuts,
        stock=stock_of(timber, lots),
        figures=(
            *stock_figures(timber, lots, cuts, log_end_length),
            face_figure(timber, supply),
            coverage_figure(supply, need),
            *shortfall_figures(supply, need, log_end_length),
            *masses,
        ),
        checks=(coverage_check(supply, need),),
        cautions=timber_cautions(timber, masses),
    )


def season_timber(
    timber: TimberInput, wood: Timber, normals: MonthlyNormals | None, building: Building, log_end_length: float
) -> Timber:
    """Add to the wood how it dries, what gaps it leaves, how it is stacked and what its ends are treated with.

    Args:
        timber: the stock as stated.
        wood: as `reckon_timber` gives it.
        normals: the site's months; None is unknown.
        building: what the gaps open into.
        log_end_length: the wall's [m].

    Sources: those of `moisture`, `forecast`, `gaps`, `stacking` and `end_treatment`.
    """
    if not wood.stock.id:
        return wood
    made = forecast_drying(timber, wood.stock, normals, log_end_length)
    face, treatment = wood.figure("timber.face_area").value, timber.treatment
    assert face is None or isinstance(face, float)
    figures = (
        *moisture_figures(normals),
        *seasoning_figures(timber, made, normals, log_end_length),
        *gap_figures(timber, wood.stock, building),
        *movement_figures(timber, wood.stock, building, normals),
        *(treatment_figures(treatment, face) if treatment else ()),
    )
    checks = (
        dryness_check(timber, made),
        stacking_check(timber.seasoning, timber.stems),
        overdry_check(timber, normals),
        *(treatment_checks(treatment, face) if treatment else ()),
    )
    return replace(
        wood,
        figures=(*wood.figures, *figures),
        checks=(*wood.checks, *checks),
        cautions=(*wood.cautions, *_cautions(timber)),
        drying=made,
    )


def _cautions(timber: TimberInput) -> tuple[Caution, ...]:
    return (caution("mould-rot"), *(treatment_cautions() if timber.treatment else ()))
