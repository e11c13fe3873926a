"""TMY2 texts taken apart by columns."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from noonwater.climate.formats import (
    RawYear,
    broken,
    check_row_count,
    numbers_of,
    order_of,
    site_of,
)

if TYPE_CHECKING:
    import pandas as pd

TMY2_LINE = 98

TMY2_HEADER = re.compile(
    r"^\s*(?P<id>\d{1,6})\s+(?P<place>\S.*?)\s+(?P<state>[A-Z]{2})\s+(?P<zone>-?\d{1,2})\s+"
    r"(?P<ns>[NS])\s+(?P<lat>\d{1,2})\s+(?P<lat_min>\d{1,2})\s+"
    r"(?P<we>[WE])\s+(?P<lon>\d{1,3})\s+(?P<lon_min>\d{1,2})\s+(?P<elevation>-?\d+)\s*$"
)

# First and last character of each field, counted from 1: Marion & Urban, User's manual for TMY2s,
# NREL 1995, table 3-2 (from memory; checked against pvlib's reader in tests/reference).
TMY2_FIELDS: dict[str, tuple[int, int, float]] = {
    "sun_global": (18, 21, 1.0),
    "sun_beam": (24, 27, 1.0),
    "sun_diffuse": (30, 33, 1.0),
    "cloud_total": (60, 61, 0.1),
    "cloud_opaque": (64, 65, 0.1),
    "temp_air": (68, 71, 0.1),
    "dew_point": (74, 77, 0.1),
    "humidity": (80, 82, 0.01),
    "pressure": (85, 88, 100.0),
    "wind_speed": (96, 98, 0.1),
}


def year_from_tmy2(text: str, source: str) -> RawYear:
    """Take a TMY2 text apart.

    Parameters
    ----------
    text : str
        Whole file.
    source : str
        Name of the file, for faults.

    Returns
    -------
    RawYear
        [SI]

    Raises
    ------
    WeatherError
        When header or rows can't be read.

    Notes
    -----
    pvlib's reader needs a second for this format, a cut by columns a tenth of it; pvlib's serves as
    the check in tests/reference.
    """
    import pandas as pd

    lines = [line for line in text.splitlines() if line.strip()]
    head = TMY2_HEADER.match(lines[0])
    if head is None:
        raise broken(source, "first line", f"'{lines[0][:60]}'", "TMY2's station line")
    degrees = [
        (int(head[name]) + int(head[f"{name}_min"]) / 60.0) * (-1.0 if head[side] in "SW" else 1.0)
        for name, side in (("lat", "ns"), ("lon", "we"))
    ]
    site = site_of(str(degrees[0]), str(degrees[1]), head["elevation"], head["zone"], source)
    rows = lines[1:]
    check_row_count(len(rows), source)
    for number, row in enumerate(rows):
        if len(row) < TMY2_LINE:
            where = f"line {number + 2}"
            raise broken(source, where, f"{len(row)} characters", f"at least {TMY2_LINE}")
    block = np.array([row[:TMY2_LINE] for row in rows], dtype=f"S{TMY2_LINE}")
    table = block.view("S1").reshape(len(rows), TMY2_LINE)

    def cut(first: int, last: int) -> pd.Series[str]:
        width = last - first + 1
        joined = np.ascontiguousarray(table[:, first - 1 : last]).view(f"S{width}").ravel()
        return pd.Series(joined.astype(str))

    columns = {
        name: numbers_of(cut(first, last)) * factor
        for name, (first, last, factor) in TMY2_FIELDS.items()
    }
    order = order_of(((row[3:5], row[5:7], row[7:9]) for row in rows), source)
    place = f"{head['place'].replace('_', ' ')}, {head['state']}"
    return RawYear("TMY2", place, *site, order, columns)
