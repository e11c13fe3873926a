"""Where the job is: the place, its weather, and what stands around it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from noonwater.core.field import Choice, Items, Whole
from noonwater.core.quantity import Quantity

Terrain = Literal["open water", "open field", "suburb", "town or woods"]
"""What the wind crosses on its way to the house, as a surveyor sees it."""

ZONE = Quantity("number of hours", "standard time ahead of UTC", -43200, 50400)

Seed = Annotated[int, Whole("start of the row of random hours", 0, 2**31 - 1)]

CalendarYear = Annotated[
    int,
    Whole("which real year of a file that holds several; without it the most ordinary", 1900, 2200),
]

Ground = Literal["grass", "concrete", "gravel", "sand", "snow", "water"]


@dataclass(frozen=True)
class Site:
    """The place of the job."""

    latitude: Annotated[float, Quantity("angle", "latitude, north positive", -66, 66)]
    longitude: Annotated[float, Quantity("angle", "longitude, east positive", -180, 180)]
    elevation: Annotated[float, Quantity("length", "height above the sea", -450, 4500)] = 0.0
    terrain: Terrain = "suburb"
    ground: Ground = "grass"


@dataclass(frozen=True)
class WeatherFromFile:
    """A year in a file of the user's own: EPW, TMY3, TMY2, PVGIS or NSRDB."""

    source: Literal["file"]
    file: str
    year: CalendarYear | None = None
    utc_offset: Annotated[float, ZONE] | None = None


@dataclass(frozen=True)
class WeatherShipped:
    """A typical year that lies inside an installed library."""

    source: Literal["shipped"]
    year: Literal["Miami", "Greensboro", "Sand Point"]


@dataclass(frozen=True)
class WeatherFromStations:
    """Hours made from the United States station table at the site."""

    source: Literal["stations"]
    seed: Seed = 1


Sun = Annotated[float, Quantity("daily sun", "sun on level ground, a day", 0.0, 4.5e7)]
Air = Annotated[float, Quantity("temperature", "mean air temperature", -45.0, 45.0)]
DewPoint = Annotated[float, Quantity("temperature", "mean dew point", -50.0, 32.0)]
Wind = Annotated[float, Quantity("velocity", "mean wind at 10 m", 0.0, 20.0)]
Range = Annotated[float, Quantity("temperature difference", "daily range", 0.0, 30.0)]


@dataclass(frozen=True)
class WeatherFromMonths:
    """Hours made from twelve monthly means that the user types."""

    source: Literal["months"]
    utc_offset: Annotated[float, ZONE]
    sun: Annotated[tuple[Sun, ...], Items("sun on level ground: twelve monthly means", 12, 12)]
    air: Annotated[tuple[Air, ...], Items("air temperature: twelve monthly means", 12, 12)]
    dew_point: Annotated[tuple[DewPoint, ...], Items("dew point: twelve monthly means", 12, 12)]
    wind: Annotated[tuple[Wind, ...], Items("wind at 10 m: twelve monthly means", 12, 12)]
    daily_range: Annotated[
        tuple[Range, ...],
        Items("daily range of the air: twelve, or none", 0, 12),
    ] = ()
    seed: Seed = 1

    def __post_init__(self) -> None:
        """Refuse anything but twelve months."""
        for name in ("sun", "air", "dew_point", "wind"):
            if len(getattr(self, name)) != 12:
                raise ValueError(f"{name} has {len(getattr(self, name))} values; allowed: 12")
        if len(self.daily_range) not in (0, 12):
            raise ValueError(f"daily_range has {len(self.daily_range)} values; allowed: none or 12")


@dataclass(frozen=True)
class WeatherOnline:
    """A year that a service gives for the site; fetched once, then kept on disk."""

    source: Literal["online"]
    service: Literal["pvgis", "nasa power", "nsrdb"] = "pvgis"
    utc_offset: Annotated[float, ZONE] | None = None


Rain = Annotated[float, Quantity("depth of rain", "rain and melted snow of a month", 0.0, 2.5)]
Humidity = Annotated[float, Quantity("share", "mean relative humidity", 0.01, 1.0)]


@dataclass(frozen=True)
class WeatherRough:
    """Hours made from monthly rain and temperature, the sun estimated from them: ±15 %."""

    source: Literal["rough"]
    utc_offset: Annotated[float, ZONE]
    air: Annotated[tuple[Air, ...], Items("air temperature: twelve monthly means", 12, 12)]
    rain: Annotated[tuple[Rain, ...], Items("rain and melted snow: twelve months", 12, 12)]
    humidity: Annotated[
        tuple[Humidity, ...], Items("relative humidity: twelve monthly means, or none", 0, 12)
    ] = ()
    wind: Annotated[
        tuple[Wind, ...], Items("wind at 10 m: twelve monthly means, or none", 0, 12)
    ] = ()
    daily_range: Annotated[
        tuple[Range, ...], Items("daily range of the air: twelve, or none", 0, 12)
    ] = ()
    seed: Seed = 1

    def __post_init__(self) -> None:
        """Refuse anything but twelve months."""
        for name in ("air", "rain"):
            if len(getattr(self, name)) != 12:
                raise ValueError(f"{name} has {len(getattr(self, name))} values; allowed: 12")
        for name in ("humidity", "wind", "daily_range"):
            count = len(getattr(self, name))
            if count not in (0, 12):
                raise ValueError(f"{name} has {count} values; allowed: none or 12")


Weather = Annotated[
    WeatherFromFile
    | WeatherShipped
    | WeatherFromStations
    | WeatherFromMonths
    | WeatherOnline
    | WeatherRough,
    Choice("source"),
]


@dataclass(frozen=True)
class Roof:
    """One plane that can carry panels."""

    name: str
    pitch: Annotated[float, Quantity("pitch", "slope of the plane from level", 0, 90)]
    bearing: Annotated[
        float, Quantity("bearing", "way the plane faces, clockwise from north", 0, 360)
    ]
    width: Annotated[float, Quantity("length", "along the eave", 0.5, 200)]
    slope_length: Annotated[float, Quantity("length", "from eave to ridge, up the slope", 0.5, 100)]
    eave_height: Annotated[
        float, Quantity("length", "lower edge above the pool's water", -30, 60)
    ] = 3.0
    exposure: Literal["open", "partly sheltered", "sheltered"] = "partly sheltered"
