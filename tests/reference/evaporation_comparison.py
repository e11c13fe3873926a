"""Compare evaporation formulas with every measurement at hand; prints the table of decision 0003.

    python tests/reference/evaporation_comparison.py [folder of reference data]

Columns A, B and E are recomputed here. C, D, F and G are figures read from the project's reference
notes (their raw data are not at hand) and are only repeated.

A  outdoor heated pool in Colorado, wind near 0: 63.7 W/(m²·kPa) ± 8 %
B  the same pool at 2.2 m/s: 213 W/(m²·kPa) ± 8 %
   Smith, Lof and Jones, Solar Energy 53(1), 1994, 3-7 (ratios to ASHRAE read in the abstract)
C  Class A pan at Mono Basin, 18 clean days, measured water temperature
D  the same pan, water temperature predicted, 14 days
E  Class A pan at Adelaide, 42 months, water temperature predicted
F, G  two cold lakes by eddy covariance
"""

from __future__ import annotations

import csv
import math
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from noonwater.physics import evaporation_formulas as formulas
from noonwater.physics.air import (
    dew_point,
    pressure_at_elevation,
    vapour_pressure_at_humidity,
    vapour_pressure_saturation,
)
from noonwater.physics.convection import convection_coefficient_bowen
from noonwater.physics.evaporation import (
    evaporation_coefficient_ryan_harleman,
    evaporation_heat,
    evaporation_rate,
)
from noonwater.physics.sky import (
    emissivity_cloudy,
    emissivity_sky_berdahl_martin_mean,
    longwave_net,
    longwave_sky,
)
from noonwater.physics.wind import wind_speed_log_law

Coefficient = Callable[[float, float, float, float, float, float, float], float]
"""(wind at 2 m, wind near the surface, water, air, pressures of water, air, atmosphere)."""

FORMULAS: Mapping[str, Coefficient] = {
    "ASHRAE/Carrier": lambda u, v, *_: formulas.evaporation_coefficient_ashrae(v),
    "Smith-Lof-Jones": lambda u, v, *_: formulas.evaporation_coefficient_smith_lof_jones(v),
    "ISO/TR type": lambda u, v, *_: formulas.evaporation_coefficient_iso_tr(v),
    "Penman 1948": lambda u, v, *_: formulas.evaporation_coefficient_penman(u),
    "Rohwer": lambda u, v, tw, ta, pw, pa, p: formulas.evaporation_coefficient_rohwer(v, tw, p),
    "Penman 1956": lambda u, v, *_: formulas.evaporation_coefficient_penman_1956(u),
    "Richter": lambda u, v, *_: formulas.evaporation_coefficient_richter(u),
    "Ryan-Harleman": lambda u, v, tw, ta, pw, pa, p: evaporation_coefficient_ryan_harleman(
        u, tw, ta, pw, pa, p
    ),
    "McMillan": lambda u, v, *_: formulas.evaporation_coefficient_mcmillan(u),
}

READ: Mapping[str, Mapping[str, float]] = {
    "ASHRAE/Carrier": {"C": 1.93, "D": 1.31, "F": 2.64, "G": 3.60},
    "Smith-Lof-Jones": {"C": 1.55, "D": 1.17, "F": 2.19, "G": 2.97},
    "ISO/TR type": {"C": 1.44, "F": 2.12, "G": 2.86},
    "Penman 1948": {"C": 1.51, "F": 1.79, "G": 2.46},
    "Rohwer": {"C": 1.29, "F": 1.50, "G": 2.06},
    "Penman 1956": {"C": 1.20, "F": 1.59, "G": 2.14},
    "Richter": {"C": 1.08, "D": 1.00, "F": 0.98, "G": 1.44},
    "Ryan-Harleman": {"C": 0.99, "D": 0.95, "F": 1.32, "G": 1.72},
    "McMillan": {"C": 0.86, "D": 0.90, "F": 1.06, "G": 1.45},
}

POOL_STILL = 63.7e-3
POOL_WINDY = 213e-3
POOL_WIND = 2.2
# The abstract gives no temperatures. These are ours: a heated pool on an autumn evening in
# Colorado, and the two ends of what an overnight test there may have seen.
POOL_WATER = 28.0
POOL_AIR = (5.0, 12.0, 19.0)
POOL_HUMIDITY = 0.5
POOL_ELEVATION = 1525.0


def pool_coefficient(name: str, wind_speed: float, temp_air: float) -> float:
    """Coefficient at the Colorado pool, its wind taken as both near-surface and 2 m wind."""
    pressure = pressure_at_elevation(POOL_ELEVATION)
    water = vapour_pressure_saturation(POOL_WATER)
    air = vapour_pressure_at_humidity(temp_air, POOL_HUMIDITY)
    return FORMULAS[name](wind_speed, wind_speed, POOL_WATER, temp_air, water, air, pressure)


@dataclass(frozen=True)
class Pan:
    """A Class A pan as a closed balance; nothing in it is fitted."""

    depth: float = 0.20
    side: float = 1.8
    absorptance: float = 0.90
    emissivity: float = 0.96
    cloud_factor: float = 0.8
    roughness: float = 0.03
    height_near: float = 0.5


@dataclass(frozen=True)
class PanWeather:
    """Hourly weather at the pan."""

    month: np.ndarray
    sun: np.ndarray
    temp_air: np.ndarray
    pressure_air: float
    vapour_pressure: np.ndarray
    wind_speed: np.ndarray
    clear: np.ndarray


LATITUDE = -34.9211
ELEVATION = 48.0
STEP = 3600.0


def sun_of_day(day_of_year: np.ndarray, hour: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Extraterrestrial sun on the level and day length, clock taken as solar time."""
    lat = math.radians(LATITUDE)
    decl = np.radians(23.45 * np.sin(2.0 * np.pi * (284.0 + day_of_year) / 365.0))
    eccentric = 1.0 + 0.033 * np.cos(2.0 * np.pi * day_of_year / 365.0)
    angle = np.radians(15.0 * (hour - 12.0))
    height = np.sin(lat) * np.sin(decl) + np.cos(lat) * np.cos(decl) * np.cos(angle)
    length = 24.0 / np.pi * np.arccos(-np.tan(lat) * np.tan(decl))
    return 1361.0 * eccentric * np.maximum(height, 0.0), length


def read_pan(folder: Path) -> tuple[PanWeather, dict[int, float]]:
    """Three-hourly weather made hourly, and the observed months (key 12 year + month - 1)."""
    with (folder / "adelaide_3hourly_2001_2004.csv").open() as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    stamp = np.array(
        [
            np.datetime64(f"{int(r['Year']):04}-{int(r['Month']):02}-{int(r['Day']):02}")
            + np.timedelta64(int(r["Hour"]), "h")
            for r in rows
        ]
    )
    hours = (stamp - stamp[0]) / np.timedelta64(1, "h")
    at = np.arange(0.5, hours[-1], STEP / 3600.0)

    def between(column: str) -> np.ndarray:
        values = np.array([float(r[column] or "nan") for r in rows])
        good = np.isfinite(values)
        return np.interp(at, hours[good], values[good])

    days = at // 24
    shine = np.array([float(r["n"] or "nan") for r in rows])
    good = np.isfinite(shine)
    shine_day = dict(zip((hours[good] // 24).astype(int).tolist(), shine[good], strict=True))
    date = stamp[0].astype("datetime64[D]") + days.astype("timedelta64[D]")
    day_of_year = (date - date.astype("datetime64[Y]")).astype(int) + 1.0
    outside, length = sun_of_day(day_of_year, at % 24)
    share = np.array([shine_day.get(int(d), math.nan) for d in days]) / length
    share = np.clip(np.where(np.isfinite(share), share, np.nanmean(share)), 0.0, 1.0)
    dew = between("Tdew")
    weather = PanWeather(
        month=date.astype("datetime64[M]").astype(int) + 12 * 1970,
        sun=outside * (0.23 + 0.5 * share),
        temp_air=between("Temp"),
        pressure_air=pressure_at_elevation(ELEVATION),
        vapour_pressure=np.array([vapour_pressure_saturation(float(d)) for d in dew]),
        wind_speed=between("uz"),
        clear=share,
    )
    with (folder / "adelaide_classA_monthly.csv").open() as file:
        months = csv.DictReader(line for line in file if not line.startswith("#"))
        observed = {12 * int(r["Year"]) + int(r["Month"]) - 1: float(r["EVAP.Obs"]) for r in months}
    return weather, observed


def pan_months(coefficient: Coefficient, weather: PanWeather, pan: Pan = Pan()) -> dict[int, float]:
    """Evaporation of each month [mm] with the water's own temperature predicted."""
    z0, pressure = pan.roughness, weather.pressure_air
    ratio_2m = wind_speed_log_law(1.0, 10.0, 2.0, z0, z0)
    ratio_near = wind_speed_log_law(1.0, 10.0, pan.height_near, z0, z0)
    dew = np.array([dew_point(p) for p in weather.vapour_pressure])
    down = [
        longwave_sky(
            emissivity_cloudy(emissivity_sky_berdahl_martin_mean(d), 1.0 - c, pan.cloud_factor), t
        )
        for d, c, t in zip(dew, weather.clear, weather.temp_air.tolist(), strict=True)
    ]
    capacity = pan.depth * 998.0 * 4180.0
    temp = float(weather.temp_air[0])
    total: dict[int, float] = {}
    series = zip(
        weather.month.tolist(),
        (pan.absorptance * weather.sun).tolist(),
        weather.temp_air.tolist(),
        weather.vapour_pressure.tolist(),
        weather.wind_speed.tolist(),
        down,
        strict=True,
    )
    for month, sun, air, pressure_vapour, wind, sky in series:
        pressure_water = vapour_pressure_saturation(temp)
        per_pascal = coefficient(
            wind * ratio_2m, wind * ratio_near, temp, air, pressure_water, pressure_vapour, pressure
        )
        evaporation = evaporation_heat(per_pascal, pressure_water, pressure_vapour)
        dry = pan.side * convection_coefficient_bowen(per_pascal, pressure) * (temp - air)
        total[month] = total.get(month, 0.0) + evaporation_rate(evaporation, temp) * STEP
        temp += (
            (sun + longwave_net(temp, sky, pan.emissivity) - evaporation - dry) * STEP / capacity
        )
    return total


@dataclass(frozen=True)
class PanScore:
    """Predicted over observed, mean absolute error [mm/month], correlation."""

    ratio: float
    error: float
    correlation: float


def pan_score(predicted: Mapping[int, float], observed: Mapping[int, float]) -> PanScore:
    """Score over the observed months."""
    seen = np.array(list(observed.values()))
    told = np.array([predicted[m] for m in observed])
    return PanScore(
        float(told.sum() / seen.sum()),
        float(np.abs(told - seen).mean()),
        float(np.corrcoef(told, seen)[0, 1]),
    )


def table(folder: Path | None) -> dict[str, dict[str, float]]:
    """All columns of all formulas, predicted over measured."""
    rows: dict[str, dict[str, float]] = {}
    pan = read_pan(folder) if folder else None
    for name, coefficient in FORMULAS.items():
        row = dict(READ[name])
        still = [pool_coefficient(name, 0.0, air) for air in POOL_AIR]
        windy = [pool_coefficient(name, POOL_WIND, air) for air in POOL_AIR]
        row["A"], row["B"] = still[1] / POOL_STILL, windy[1] / POOL_WINDY
        row["B cold"], row["B warm"] = windy[0] / POOL_WINDY, windy[2] / POOL_WINDY
        if pan:
            score = pan_score(pan_months(coefficient, pan[0]), pan[1])
            row["E"], row["E mm"] = score.ratio, score.error
        rows[name] = row
    return rows


def miss(row: Mapping[str, float], columns: str) -> float:
    """Root mean square of the logarithm of predicted over measured, as a percentage."""
    logs = [math.log(row[c]) ** 2 for c in columns if c in row]
    return 100.0 * (math.exp(math.sqrt(sum(logs) / len(logs))) - 1.0)


COLUMNS = ("A", "B", "C", "D", "E", "F", "G")


def markdown(rows: Mapping[str, Mapping[str, float]]) -> list[str]:
    """The table as decision 0003 prints it."""
    lines = [
        "| formula | " + " | ".join(COLUMNS) + " | E, mm/month | pools and pans | all |",
        "|---|" + "---|" * (len(COLUMNS) + 3),
    ]
    for name, row in rows.items():
        cells = [f"{row[c]:.2f}" if c in row else "-" for c in COLUMNS]
        cells += [f"{row['E mm']:.1f}" if "E mm" in row else "-"]
        cells += [f"{miss(row, 'ABCDE'):.0f} %", f"{miss(row, 'ABCDEFG'):.0f} %"]
        lines.append(f"| {name} | " + " | ".join(cells) + " |")
    return lines


def main(arguments: list[str]) -> int:
    """Print the table."""
    neighbour = Path(__file__).parents[3] / "shared" / "reference" / "data"
    folder = Path(arguments[0]) if arguments else neighbour
    rows = table(folder if folder.is_dir() else None)
    print("\n".join(markdown(rows)))
    name = "Ryan-Harleman"
    print(
        f"\n{name} in wind, air {POOL_AIR[0]} to {POOL_AIR[2]} °C: B "
        f"{rows[name]['B cold']:.2f} to {rows[name]['B warm']:.2f}"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
