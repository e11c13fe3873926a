"""What makes a year doubtful: values of the sun that disagree, wind that never changes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.sun_path import SECONDS_IN_HOUR, sun_position
from noonwater.climate.weather_year import FloatArray, month_of_hour
from noonwater.core.finding import Finding

CLOSURE_LIMIT = 15.0
"""[W/m²] Sound files close to 1 to 9, half an hour wrong gives 27 to 43; measured, see
docs/decisions/0006-climate-sources.md."""

WIND_SPREAD = 0.05
"""[m/s] Standard deviation within a month below which the wind counts as constant; ours."""

HALF_HOUR = 1800.0


@dataclass(frozen=True)
class Closures:
    """Closure of a year as stamped, and with its clock moved by half an hour.

    Attributes
    ----------
    closure, earlier, later : float
        Root mean square over the sunlit hours. [W/m²]
    height : array of 8760
        Of the sun at the middle of each hour. [°]
    """

    closure: float
    earlier: float
    later: float
    height: FloatArray


def sun_closure(sun: tuple[FloatArray, FloatArray, FloatArray], sine_height: FloatArray) -> float:
    """How far the three sun values of a year are from agreeing.

    Parameters
    ----------
    sun : tuple of three arrays of 8760
        Global, beam and diffuse. [W/m²]
    sine_height : array of 8760
        Sine of the sun's height at the middle of each hour, zero when down. [-]

    Returns
    -------
    float
        Root mean square of global - diffuse - beam x sine over the sunlit hours. [W/m²]
    """
    sun_global, sun_beam, sun_diffuse = sun
    lit = sun_global > 0.0
    if not lit.any():
        return 0.0
    rest = sun_global - sun_diffuse - sun_beam * sine_height
    return float(np.sqrt(np.mean(rest[lit] ** 2)))


def closures(
    latitude: float,
    longitude: float,
    utc_offset: float,
    sun: tuple[FloatArray, FloatArray, FloatArray],
) -> Closures:
    """See whether global, beam and diffuse agree with the sun's height.

    Parameters
    ----------
    latitude, longitude : float
        [°]
    utc_offset : float
        [h]
    sun : tuple of three arrays of 8760
        Global, beam and diffuse. [W/m²]

    Returns
    -------
    Closures
        The moved clocks are only tried when the closure is poor; else they repeat it. [W/m²]
    """

    def at(shift: float) -> tuple[float, FloatArray]:
        height, _ = sun_position(latitude, longitude, utc_offset, SECONDS_IN_HOUR, shift)
        return sun_closure(sun, np.sin(np.radians(np.maximum(height, 0.0)))), height

    closure, height = at(0.0)
    if closure <= CLOSURE_LIMIT:
        return Closures(closure, closure, closure, height)
    return Closures(closure, at(-HALF_HOUR)[0], at(HALF_HOUR)[0], height)


def findings_of_year(wind_speed: FloatArray, found: Closures) -> tuple[Finding, ...]:
    """Name what somebody should look at before trusting a file.

    Parameters
    ----------
    wind_speed : array of 8760
        [m/s]
    found : Closures
        Closure of the year. [W/m²]

    Returns
    -------
    tuple of Finding
        Rules 'weather-constant-wind' and 'weather-closure'.
    """
    findings = []
    months = month_of_hour()
    spread = max(float(np.std(wind_speed[months == month])) for month in range(12))
    if spread < WIND_SPREAD:
        findings.append(_constant_wind(wind_speed, spread))
    if found.closure > CLOSURE_LIMIT:
        findings.append(_poor_closure(found))
    return tuple(findings)


def _constant_wind(wind_speed: FloatArray, spread: float) -> Finding:
    return Finding(
        rule="weather-constant-wind",
        severity="caution",
        where="weather",
        value=f"{np.mean(wind_speed):.1f} m/s, varying by {spread:.2f} m/s within a month",
        limit=f"varying by at least {WIND_SPREAD} m/s",
        text="The weather file's wind never changes, so it was filled in and not measured.",
        source="common practice, no source",
        remedy="Take another weather file: wind decides how fast pool and panels lose heat.",
    )


def _poor_closure(found: Closures) -> Finding:
    remedy = "Take another weather file of the place."
    best = min(found.earlier, found.later)
    if best < CLOSURE_LIMIT:
        side = "later" if found.later == best else "earlier"
        remedy = (
            f"Read half an hour {side} the sun closes to {best:.1f} W/m²: the file's clock or its "
            "time zone is off; take another file of the place."
        )
    return Finding(
        rule="weather-closure",
        severity="caution",
        where="weather",
        value=f"{found.closure:.1f} W/m²",
        limit=f"{CLOSURE_LIMIT:g} W/m²",
        text="The weather file's global, direct and diffuse sun disagree with the sun's height.",
        source="closure of global = diffuse + direct x sine of the sun's height, rms over sunlit "
        "hours; limit set between measured sound files and clocks half an hour off",
        remedy=remedy,
    )


def no_humidity() -> Finding:
    """Finding for a source that tells no humidity.

    Returns
    -------
    Finding
        Rule 'weather-no-humidity'; a stand-in 3 K off moves the pressure that drives evaporation
        from a pool of 28 °C in air of 25 °C and 60 % by some 20 %. [-]
    """
    return Finding(
        rule="weather-no-humidity",
        severity="caution",
        where="weather",
        value="none in the file",
        limit="dew point or relative humidity",
        text="The weather file has no humidity; each day's lowest temperature stands in for it.",
        source="FAO Irrigation and Drainage Paper 56 (1998), from memory: right where nights bring "
        "dew, 2 to 3 K too damp in dry lands",
        remedy="Take a typical year of the place instead: evaporation hangs on humidity.",
    )
