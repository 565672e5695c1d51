"""What does the wood come to? The stock in, everything it gives out."""

from cordwright.timber.bucking import cut_stems
from cordwright.timber.faces import (
    Need,
    coverage_check,
    coverage_figure,
    face_figure,
    shortfall_figures,
    supply_of,
)
from cordwright.timber.figures import stock_figures
from cordwright.timber.inputs import TimberInput
from cordwright.timber.lots import lots_of
from cordwright.timber.masses import mass_figures, timber_cautions
from cordwright.timber.results import Timber
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
