"""The drying of the stack as plain values, for other programs: schema 1, keys permanent, SI, days in ISO."""

from collections.abc import Mapping
from datetime import date

from cordwright.timber.diffusion import Floats
from cordwright.timber.forecast import Curve, Forecast


def drying_json(made: Forecast | None) -> Mapping[str, object]:
    """Give the curves of the three sizes, the air's steps and the measured points.

    Args:
        made: the forecast; None where there is no wood.
    """
    if made is None:
        return {"start": None, "rate": None, "curves": [], "air": [], "points": []}
    rate, start = made.rate, made.stack.start
    return {
        "start": start.isoformat() if start else None,
        "rate": {"low": rate.low, "middle": rate.middle, "high": rate.high, "points": rate.points},
        "curves": [_curve(c) for c in made.curves],
        "air": [] if made.air is None else _air(made.air.begins, made.air.moisture),
        "points": [{"date": p.day.isoformat(), "moisture": p.moisture, "end": p.name} for p in made.points],
    }


def _curve(curve: Curve) -> dict[str, object]:
    return {
        "size": curve.name,
        "diameter": curve.diameter,
        "days": [date.fromordinal(int(d)).isoformat() for d in curve.days],
        "fast": _rounded(curve.fast),
        "middle": _rounded(curve.middle),
        "slow": _rounded(curve.slow),
    }


def _rounded(values: Floats) -> list[float]:
    return [round(float(v), 6) for v in values]


def _air(begins: Floats, moisture: Floats) -> list[dict[str, object]]:
    return [
        {"from": date.fromordinal(int(day)).isoformat(), "moisture": round(float(m), 6)}
        for day, m in zip(begins[:-1], moisture, strict=True)
    ]
