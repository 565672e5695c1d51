"""What do the weather file and generated winters say of the site, all together?"""

from cordwright.base import Figure
from cordwright.site.file_months import station_figures
from cordwright.site.generated_winters import generated_figures
from cordwright.site.inputs import SiteInput
from cordwright.site.measured_cold import measured_figures
from cordwright.site.weather import WeatherModel


def weather_figures(site: SiteInput, model: WeatherModel | None) -> tuple[Figure, ...]:
    """Station, cold as measured and cold as generated; none where the owner told nothing of the weather.

    Args:
        site: the place.
        model: its generator, from `weather_model`.
    """
    return (*station_figures(site), *measured_figures(site), *generated_figures(site, model))
