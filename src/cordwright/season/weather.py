"""Which weather does the season run in, as far as the owner's months tell it?"""

from cordwright.site.inputs import SiteInput
from cordwright.site.night_spread import BY_DATE, spread_by_date, with_spread
from cordwright.site.weather import WeatherModel
from cordwright.site.weather_fit import Assumed, fit_normals, missing_for_days


def weather_of(site: SiteInput) -> WeatherModel | None:
    """Fit the generator to the site's months, nights to the first hard frost where it is stated; None without months.

    Args:
        site: the place.
    """
    if site.months is None or missing_for_days(site.months):
        return None
    if site.first_hard_frost is None:
        return fit_normals(site.months)
    spread = spread_by_date(site.months, site.first_hard_frost)
    return fit_normals(site.months, None if spread is None else with_spread(Assumed(), spread, BY_DATE))
