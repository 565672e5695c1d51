"""What in the stated stock cannot be, and what is still missing?"""

from collections.abc import Iterator

from cordwright.base import Problem, table
from cordwright.timber.bucking import Sawing, pieces_of_clean_stick
from cordwright.timber.inputs import SHARES, Pile, Species, TimberInput
from cordwright.timber.lots import pieces_of_pile
from cordwright.timber.seasoning_faults import seasoning_faults
from cordwright.timber.shrinkage import fibre_saturation
from cordwright.timber.species import wood_of
from cordwright.timber.stem_faults import stem_faults


def find_faults(timber: TimberInput, log_end_length: float) -> tuple[Problem, ...]:
    """Name every fault of the stated stock.

    Args:
        timber: the stock as read, in SI.
        log_end_length: the wall's one length [m].

    Sources: ranges are assumptions (`stock-limits`); stick lengths are common practice (`stick-lengths`).
    """
    if log_end_length <= 0:
        return (_problem("wall.log_end_length", f"is {_mm(log_end_length)}", "more than 0 mm"),)
    if not timber.stems and not timber.piles:
        return (*_stock_faults(timber), *seasoning_faults(timber), _no_stock())
    own = (p for i, wood in enumerate(timber.species) for p in _species_faults(f"species[{i}]", wood))
    piles = (p for i, pile in enumerate(timber.piles) for p in _pile_faults(f"stock.piles[{i}]", pile))
    faults = (*_stock_faults(timber), *own, *piles, *stem_faults(timber, log_end_length), *seasoning_faults(timber))
    if any(p.severity == "error" for p in faults):
        return faults
    return (*faults, *_too_many(timber, log_end_length), *_unknown_woods(timber))


def _problem(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint)


def _warning(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint, severity="warning")


def _mm(length: float) -> str:
    return f"{length * 1000:.6g} mm"


def _percent(share: float) -> str:
    return f"{share * 100:.6g} %"


def _limit(name: str) -> float:
    return float(table("stock")["limits"][name])


def _no_stock() -> Problem:
    hint = "list stems in a CSV (stock.stems) or give a [[stock.piles]] with a sample of diameters"
    return _warning("stock", "no wood is stated: what the wall lacks is unknown", hint)


def _stock_faults(timber: TimberInput) -> Iterator[Problem]:
    for name in ("kerf", "end_trim", "least_diameter"):
        size = getattr(timber, name)
        if size < 0:
            yield _problem(f"stock.{name}", f"is {_mm(size)}", "0 mm or more")
    yield from _share_faults(timber)
    yield from _bark_faults(timber.bark_factor)
    yield from _moisture_faults(timber)


def _share_faults(timber: TimberInput) -> Iterator[Problem]:
    for name in ("cull_share", "spare_share"):
        share = getattr(timber, name)
        if share is not None and not 0 <= share < 1:
            yield _problem(f"stock.{name}", f"is {_percent(share)}", "from 0 % to less than 100 %")
            return
    if (timber.cull_share or 0.0) + (timber.spare_share or 0.0) >= 1:
        yield _problem("stock.spare_share", "culls and spares together leave no log end", "lower one of them")


def _bark_faults(factor: float | None) -> Iterator[Problem]:
    if factor is None:
        return
    hint = "diameter without bark over diameter with bark, usually 0.90 to 0.93"
    if not 0 < factor <= 1:
        yield _problem("stock.bark_factor", f"is {factor:g}", hint)
    elif factor < _limit("bark_factor_low"):
        yield _warning("stock.bark_factor", f"{factor:g} is uncommonly thick bark", hint)


def _moisture_faults(timber: TimberInput) -> Iterator[Problem]:
    most, saturation = _limit("moisture"), timber.fibre_saturation
    names = ("laying_moisture", "service_moisture", "measured_moisture")
    wrong = [n for n in names if (m := getattr(timber, n)) is not None and not 0 <= m <= most]
    for name in wrong:
        hint = f"water over oven-dry mass, 0 % to {_percent(most)}"
        yield _problem(f"stock.{name}", f"is {_percent(getattr(timber, name))}", hint)
    low, high = _limit("fibre_saturation_low"), _limit("fibre_saturation_high")
    if saturation is not None and not low <= saturation <= high:
        hint = f"between {_percent(low)} and {_percent(high)}, usually 28 to 30 %"
        yield _problem("stock.fibre_saturation", f"is {_percent(saturation)}", hint)
    elif not wrong:
        yield from _drying_faults(timber)


def _drying_faults(timber: TimberInput) -> Iterator[Problem]:
    laying, service = timber.laying_moisture, timber.service_moisture
    if laying is None:
        hint = "state laying_moisture, by meter or by oven"
        yield _warning("stock.laying_moisture", "is blank: the size of the log ends at laying is unknown", hint)
        return
    if laying >= fibre_saturation(timber):
        hint = "let them season; a meter reading above about 28 to 30 % says no more than wet"
        yield _warning("stock.laying_moisture", f"{_percent(laying)} is wet: all shrinkage is still to come", hint)
    if service is not None and service > laying:
        message = f"{_percent(service)} is more than at laying ({_percent(laying)}): the log ends will swell and press"
        yield _warning("stock.service_moisture", message, "lay over-dry wood only where it stays dry")


def _species_faults(field: str, wood: Species) -> Iterator[Problem]:
    most = _limit("shrinkage")
    for name in ("shrinkage", "radial", "tangential", "volumetric"):
        share = getattr(wood, name)
        if share is not None and not 0 <= share <= most:
            hint = f"green to oven-dry, 0 % to {_percent(most)}"
            yield _problem(f"{field}.{name}", f"is {_percent(share)}", hint)
    low, high, density = _limit("basic_density_low"), _limit("basic_density_high"), wood.basic_density
    if density is not None and not low <= density <= high:
        hint = f"oven-dry mass over green volume, {low:g} to {high:g} kg/m3"
        yield _problem(f"{field}.basic_density", f"is {density:.6g} kg/m3", hint)


def _pile_faults(field: str, pile: Pile) -> Iterator[Problem]:
    if pile.shape not in SHARES:
        yield _problem(f"{field}.shape", f"{pile.shape!r} is no shape of a log end", "one of round, half, quarter")
        return
    yield from _volume_faults(f"{field}.stacked_volume", pile.stacked_volume)
    yield from _solid_faults(field, pile)
    yield from _sample_faults(f"{field}.diameters", pile.diameters)


def _volume_faults(field: str, volume: float) -> Iterator[Problem]:
    if not 0 < volume <= _limit("stacked_volume"):
        hint = f"more than 0, at most {_limit('stacked_volume'):g} m3; look at the unit"
        yield _problem(field, f"is {volume:.6g} m3", hint)


def _solid_faults(field: str, pile: Pile) -> Iterator[Problem]:
    factor, low, high = pile.solid_factor, pile.solid_factor_low, pile.solid_factor_high
    hint = "solid wood over stacked volume, usually 0.55 to 0.70"
    wrong = False
    for name, value in (("solid_factor", factor), ("solid_factor_low", low), ("solid_factor_high", high)):
        if value is not None and not 0 < value <= 1:
            wrong = True
            yield _problem(f"{field}.{name}", f"is {value:g}", hint)
    if wrong:
        return
    if (low is not None and low > factor) or (high is not None and high < factor):
        yield _problem(
            f"{field}.solid_factor", f"{factor:g} lies outside its own low and high", "put the three in order"
        )
    elif not _limit("solid_factor_low") <= factor <= _limit("solid_factor_high"):
        yield _warning(f"{field}.solid_factor", f"{factor:g} is uncommon", hint)


def _sample_faults(field: str, diameters: tuple[float, ...]) -> Iterator[Problem]:
    if not diameters:
        yield _problem(field, "there is no sample of diameters", "measure thirty pieces taken at random")
        return
    most = _limit("diameter")
    wrong = [d for d in diameters if not 0 < d <= most]
    if wrong:
        message = f"{len(wrong)} of {len(diameters)} diameters cannot be, the first is {_mm(wrong[0])}"
        yield _problem(field, message, f"more than 0, at most {_mm(most)}; look at the unit")


def _too_many(timber: TimberInput, length: float) -> Iterator[Problem]:
    """Refuse a stock of more log ends than any hand has laid, before they are listed one by one."""
    pitch = Sawing.of(timber, length)
    stems = sum(pieces_of_clean_stick(s.length, pitch.length, pitch.kerf) * s.count for s in timber.stems)
    count, most = stems + sum(pieces_of_pile(pile, length) for pile in timber.piles), _limit("log_ends")
    if count > most:
        field = "stock.piles" if stems <= most else "stems"
        hint = f"at most {most:.0f} are reckoned; look at counts, lengths and units"
        yield _problem(field, f"the stock would give about {count} log ends of {_mm(length)}", hint)


def _unknown_woods(timber: TimberInput) -> Iterator[Problem]:
    """Warn once of each wood whose shrinkage nobody states."""
    places = {pile.species: f"stock.piles[{i}].species" for i, pile in reversed([*enumerate(timber.piles)])}
    places |= {stem.species: f"stems[{i}].species" for i, stem in reversed([*enumerate(timber.stems)])}
    for name, field in places.items():
        if wood_of(timber, name).shrinkage is None:
            hint = "add a [[species]] of this name with like or shrinkage"
            yield _warning(field, f"the shrinkage of {name!r} is not known: no sizes at laying", hint)
