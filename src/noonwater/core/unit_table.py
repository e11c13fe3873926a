"""The units that a contractor writes, and no others.

The list is short on purpose. A general table of units reads "C" as coulomb and "F" as farad, takes
an angle for a plain number (so "40 Hz" would be 382 rpm) and joins prefixes to anything. Here an
angle, a currency and a resistance are dimensions of their own, there are no prefixes, and a name
that is not in the list is refused.

Factors: NIST Special Publication 811 (2008), appendix B, from memory; tests/reference compares each
with general libraries. The gallon, the horsepower (550 ft·lbf/s) and the ton of refrigeration are
those of the United States, the British thermal unit is that of the International Table, water in
"ft of water" has 1000 kg/m³.
"""

from __future__ import annotations

DEFINITIONS = """
metre = [length] = m = meter = meters = metres
second = [time] = s = sec = second_ = seconds
kilogram = [mass] = kg
kelvin = [temperature]; offset: 0 = K
radian = [angle] = rad = radians
currency = [currency]
ohm = [resistance] = ohms = Ohm = Ohms = OHM = OHMS
one = []

millimetre = 0.001 * metre = mm = millimeter = millimeters = millimetres
centimetre = 0.01 * metre = cm = centimeter = centimeters = centimetres
kilometre = 1000 * metre = km
foot = 0.3048 * metre = ft = feet = FT
inch = 0.0254 * metre = in_ = inches = IN
yard = 0.9144 * metre = yd = yards
mile = 1609.344 * metre = mi = miles

minute = 60 * second = min_ = mins = minutes
hour = 3600 * second = h = hr = hrs = hours
day = 86400 * second = d = days
year = 365.25 * day = yr = years

litre = 0.001 * metre ** 3 = L = l_ = liter = liters = litres
gallon = 231 * inch ** 3 = gal = gallons = Gal
acre = 4046.8564224 * metre ** 2

gpm = gallon / minute = GPM = Gpm
gph = gallon / hour = GPH
cfm = foot ** 3 / minute = CFM
lpm = litre / minute = LPM

kph = kilometre / hour = kmh
mph = mile / hour = MPH
knot = 1852 * metre / hour = kn = knots

degree = 3.14159265358979323846264338327950288 / 180 * radian = deg = degrees
revolution = 360 * degree = rev = r_
rpm = revolution / minute = RPM
percent = 0.01 * one = pct

newton = kilogram * metre / second ** 2 = N
pound = 0.45359237 * kilogram = lb = lbs = pounds
pound_force = 9.80665 * pound * metre / second ** 2 = lbf
pascal = newton / metre ** 2 = Pa
hectopascal = 100 * pascal = hPa
kilopascal = 1000 * pascal = kPa
megapascal = 1000000 * pascal = MPa
bar = 100000 * pascal
millibar = 100 * pascal = mbar
psi = pound_force / inch ** 2 = PSI = psig
foot_water = 9806.65 * pascal / metre * foot = ft_H2O = ftH2O
inch_water = 9806.65 * pascal / metre * inch = in_H2O = inH2O
metre_water = 9806.65 * pascal = m_H2O = mH2O
inch_mercury = 3386.389 * pascal = in_Hg = inHg

joule = newton * metre = J
kilojoule = 1000 * joule = kJ
megajoule = 1000000 * joule = MJ
gigajoule = 1000000000 * joule = GJ
watt = joule / second = W = watts
kilowatt = 1000 * watt = kW = KW = kw
megawatt = 1000000 * watt = MW
horsepower = 550 * foot * pound_force / second = hp = HP
Wh = watt * hour
kWh = 1000 * watt * hour = KWH = kwh = kWhr
MWh = 1000000 * watt * hour
Btu = 1055.05585262 * joule = BTU = btu
kBtu = 1000 * Btu = kBTU = MBH_
MMBtu = 1000000 * Btu = MMBTU
therm = 100000 * Btu = therms = thm
refrigeration_ton = 12000 * Btu / hour = ton = tons

kilohm = 1000 * ohm = kohm = kohms = kilohms = kOhm = KOHM
megohm = 1000000 * ohm = Mohm = Mohms = megohms = MOhm = MOHM

degC = kelvin; offset: 273.15 = celsius = Celsius
degF = 5 / 9 * kelvin; offset: 2298.35 / 9 = fahrenheit = Fahrenheit

USD = currency
EUR = currency
GBP = currency
AUD = currency
CAD = currency
MXN = currency
NZD = currency
CHF = currency
ZAR = currency
BRL = currency
dollar = currency
cent = 0.01 * currency = cents = ct
"""
"""Read by pint. A name that ends in an underscore stands in for one that Python keeps to itself."""

KEPT_WORDS = {"in": "in_", "min": "min_", "l": "l_", "r": "r_"}

CURRENCIES = ("USD", "EUR", "GBP", "AUD", "CAD", "MXN", "NZD", "CHF", "ZAR", "BRL")
DOLLARS = ("USD", "AUD", "CAD", "NZD")
"""Currencies whose everyday sign is "$" and whose word is dollar."""
CURRENCY_SIGNS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"US\$", ("USD",)),
    (r"NZ\$", ("NZD",)),
    (r"AU?\$", ("AUD",)),
    (r"C(?:AN?)?\$", ("CAD",)),
    (r"MX\$", ("MXN",)),
    (r"R\$", ("BRL",)),
    ("€", ("EUR",)),
    ("£", ("GBP",)),
    (r"\$", (*DOLLARS, "MXN")),
    ("dollar", DOLLARS),
    (r"\bFr\.?\s?(?=\d)", ("CHF",)),
    (r"\bR\s?(?=\d)", ("ZAR",)),
)
"""Signs of currencies, as regular expressions, and what each may mean; the first found counts."""

LABELS = {
    "degree": "°",
    "m": "m",
    "ft": "ft",
    "mm": "mm",
    "inch": "in",
    "m**2": "m²",
    "ft**2": "ft²",
    "m**3": "m³",
    "gallon": "gal",
    "m**3/s": "m³/s",
    "m**3/hour": "m³/h",
    "gpm": "gpm",
    "Pa": "Pa",
    "kPa": "kPa",
    "psi": "psi",
    "rpm": "rpm",
    "m/s": "m/s",
    "ft/s": "ft/s",
    "W": "W",
    "kW": "kW",
    "Btu/hour": "Btu/h",
    "degC": "°C",
    "degF": "°F",
    "kelvin": "K",
    "delta_degF": "°F",
    "s": "s",
    "minute": "min",
    "hour": "h",
    "percent": "%",
    "kWh/m**2/day": "kWh/m²/day",
    "W/m**2/kelvin": "W/m²/K",
    "J/m**3/kelvin": "J/m³/K",
    "s/m": "s/m",
    "currency/kWh": "currency/kWh",
    "currency/J": "currency/J",
    "kWh": "kWh",
    "J": "J",
    "currency": "currency",
    "currency/s": "currency/s",
    "currency/hour": "currency/h",
    "currency/year": "currency/year",
    "currency/m**3": "currency/m3",
    "currency/litre": "currency/L",
    "currency/gallon": "currency/gal",
    "kg": "kg",
    "pound": "lb",
    "kg/m**2": "kg/m²",
    "pound/ft**2": "lb/ft²",
    "kg/J": "kg/J",
    "kg/kWh": "kg/kWh",
    "ohm": "ohm",
}
"""How a unit of `KINDS` is printed in results."""

SPELLINGS = (
    (r"[·⋅×]", "*"),
    ("[−–‐‑]", "-"),
    ("[\u200b-\u200f\u2060\ufeff]", ""),
    ("[\u00a0\u2007\u2009\u202f]", " "),
    ("℃", "°C"),
    ("℉", "°F"),
    ("º", "°"),
    ("[’′]", "'"),
    ("[”″]", '"'),
    ("⁄", "/"),
    ("½", " 1/2"),
    ("¼", " 1/4"),
    ("¾", " 3/4"),
    ("⅓", " 1/3"),
    ("⅔", " 2/3"),
    ("⅛", " 1/8"),
    ("⅜", " 3/8"),
    ("⅝", " 5/8"),
    ("⅞", " 7/8"),
)
"""Signs that mean the same: in the whole text."""

UNIT_SPELLINGS = (
    ("[kK]\\s*[\u03a9\u2126]", " kohm "),
    ("M\\s*[\u03a9\u2126]", " megohm "),
    ("[\u03a9\u2126]", " ohm "),
    ("²", "^2"),
    ("³", "^3"),
    (r"\bper\b", "/"),
    (r"(?:°|\bdeg(?:rees?)?)\s*[Cc]\b", " degC "),
    (r"(?:°|\bdeg(?:rees?)?)\s*[Ff]\b", " degF "),
    (r"°\s*K\b", " K "),
    ("°", " degree "),
    ("%", " percent "),
    (r"\$", " dollar "),
    ("€", " EUR "),
    ("£", " GBP "),
    ("¢", " cent "),
    ("'", " foot "),
    ('"', " inch "),
    (r"\bfe?e?o?t\s+(?:of\s+)?(?:water|H2O)\b", "ft_H2O"),
    (r"\bin(?:ch|ches)?\s+(?:of\s+)?(?:water|H2O)\b", "in_H2O"),
    (r"\bm(?:et(?:er|re)s?)?\s+(?:of\s+)?(?:water|H2O)\b", "m_H2O"),
    (r"\b(in|ft|sq|cu|gal|yd|min|hr|sec)\.", r"\1"),
    (r"\b(?:sq|SQ|Sq|square)\s*(ft|FT|in|m|yd)\b", r"\1^2"),
    (r"\bSF\b", "ft^2"),
    (r"\b(?:sq|square)\s+(\w+)", r"\1^2"),
    (r"\b(?:cu|cubic)\s+(\w+)", r"\1^3"),
)
"""Signs and phrases that mean the same: after the number only."""
