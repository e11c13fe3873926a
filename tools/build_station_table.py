"""Build the package's station table from the reference data beside the checkout.

    python tools/build_station_table.py [SOURCE.csv]

Writes src/noonwater/climate/data/us_stations.npz and, beside it, us_stations.json with provenance.
The same source gives the same bytes.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import sys
import zipfile
from pathlib import Path

import numpy as np

REPOSITORY = Path(__file__).parent.parent
SOURCE = REPOSITORY.parent / "shared" / "reference" / "data" / "us_station_monthly_means.csv"
TARGET = REPOSITORY / "src" / "noonwater" / "climate" / "data"

# Name in the table: column of the source, step of the stored whole numbers, unit.
MONTHLY = {
    "sun_global": ("ghi_kWh_m2_d", 0.01, "kWh/(m² day)"),
    "temp_air": ("tair_C", 0.01, "°C"),
    "dew_point": ("tdew_C", 0.01, "°C"),
    "wind_speed": ("wind_m_s", 0.01, "m/s"),
    "daily_range": ("dtr_K", 0.01, "K"),
}
SINGLE = {
    "latitude": ("lat", 0.001, "°", np.int32),
    "longitude": ("lon", 0.001, "°", np.int32),
    "elevation": ("alt", 1.0, "m", np.int16),
    "utc_offset": ("tz", 0.25, "h", np.int8),
    "temp_lowest": ("tmin", 0.1, "°C", np.int16),
}


def table_of(source: Path) -> tuple[dict[str, np.ndarray], str]:
    """Read the source into scaled whole numbers, with its own first line."""
    lines = source.read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    table: dict[str, np.ndarray] = {}
    for name, (column, step, _, kind) in SINGLE.items():
        table[name] = _scaled([float(row[column]) for row in rows], step, kind)
    for name, (column, step, _) in MONTHLY.items():
        values = [[float(row[f"{column}_{m:02d}"]) for m in range(1, 13)] for row in rows]
        table[name] = _scaled(values, step, np.int16)
    table["place"] = np.array([_place(row["name"], row["state"]) for row in rows])
    return table, lines[0].lstrip("# ")


def write(table: dict[str, np.ndarray], provenance: dict[str, object], target: Path) -> Path:
    """Write table and provenance so that the same content gives the same bytes."""
    target.mkdir(parents=True, exist_ok=True)
    words = json.dumps(provenance, indent=2, ensure_ascii=False) + "\n"
    (target / "us_stations.json").write_text(words, encoding="utf-8")
    content = {**table, "provenance": np.array(words)}
    with zipfile.ZipFile(target / "us_stations.npz", "w", zipfile.ZIP_DEFLATED) as archive:
        for name, values in content.items():
            buffer = io.BytesIO()
            np.save(buffer, values, allow_pickle=False)
            stamp = zipfile.ZipInfo(f"{name}.npy", date_time=(1980, 1, 1, 0, 0, 0))
            stamp.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(stamp, buffer.getvalue())
    return target / "us_stations.npz"


def provenance_of(source: Path, first_line: str, stations: int) -> dict[str, object]:
    """Say where the table comes from and how it is scaled."""
    return {
        "what": f"Monthly means of {stations} US stations, computed from typical years (TMY3)",
        "source": "Wilcox, S. and Marion, W., Users manual for TMY3 data sets, "
        "NREL/TP-581-43156, 2008; US government data",
        "source_file": source.name,
        "source_sha256": hashlib.sha256(source.read_bytes()).hexdigest(),
        "source_says": first_line,
        "built_by": "tools/build_station_table.py",
        "step": {name: entry[1] for name, entry in {**SINGLE, **MONTHLY}.items()},
        "unit": {name: entry[2] for name, entry in {**SINGLE, **MONTHLY}.items()},
    }


def _scaled(values: list[float] | list[list[float]], step: float, kind: type) -> np.ndarray:
    whole = np.rint(np.array(values) / step)
    info = np.iinfo(kind)
    if whole.min() < info.min or whole.max() > info.max:
        raise SystemExit(f"values do not fit {kind.__name__} in steps of {step}")
    return whole.astype(kind)


def _place(name: str, state: str) -> str:
    bare = name.removeprefix(f"{state}-").replace("_", " ")
    return f"{bare}, {state}"


def main() -> None:
    """Build the table from the source named on the command line, or the usual one."""
    source = Path(sys.argv[1]) if len(sys.argv) > 1 else SOURCE
    if not source.is_file():
        raise SystemExit(f"no source table at {source.name}; give its path")
    table, first_line = table_of(source)
    written = write(table, provenance_of(source, first_line, len(table["place"])), TARGET)
    print(f"{len(table['place'])} stations, {written.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
