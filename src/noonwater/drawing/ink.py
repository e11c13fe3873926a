"""What a drawing is drawn with: ink, one water colour, one heat colour, weights, dashes, letters.

Text keeps at least 4.5:1 against every ground it can stand on (WCAG 2.2, success criterion 1.4.3);
the tests compute it. A colour never says alone what a line is: each line has its dash or weight and
each fill its hatch, so a black-and-white print reads the same.
"""

from __future__ import annotations

SHEET = "#ffffff"
INK = "#1b2126"
NOTE = "#4d565d"
RULE = "#7c858c"
GRID = "#d4d9dc"
CLOSED = "#eff1f2"
AIR = "#8d969c"
WATER = "#0a5a88"
WATER_TINT = "#c9e0ec"
HEAT = "#9c3308"
HEAT_TINT = "#fbeadf"

GROUNDS = (SHEET, CLOSED, WATER_TINT, HEAT_TINT)
"""All that text can stand on."""
LETTERS = (INK, NOTE, WATER, HEAT)
"""All that text can be written in."""

HEAVY = 2.6
MEDIUM = 1.6
FINE = 1.0
THIN = 0.8
HAIR = 0.6

DASH = "7 4"
DASH_DOT = "14 4 2 4"

TYPEFACE = "'Source Sans 3', 'Liberation Sans', Arial, Helvetica, 'DejaVu Sans', sans-serif"
"""The house's own face, which screen and paper bring; behind it faces with digits of one width."""
