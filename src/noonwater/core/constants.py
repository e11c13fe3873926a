"""Physical constants, each once, with its source."""

STEFAN_BOLTZMANN = 5.670374419e-8
"""[W/(m²·K⁴)] CODATA 2018, exact since the 2019 SI."""

GRAVITY = 9.80665
"""[m/s²] Standard gravity, 3rd CGPM 1901."""

KELVIN = 273.15
"""[K] 0 °C, exact by definition."""

PRESSURE_SEA_LEVEL = 101325.0
"""[Pa] Standard atmosphere, ISO 2533:1975."""

SECONDS_PER_HOUR = 3600.0
"""[s/h] Exact."""
