"""People in the water: what they warm."""

from __future__ import annotations

from noonwater.core.jit import formula

MET = 1.162
"""[W/kg] One metabolic equivalent as the Compendium of Physical Activities counts: 1 kcal an hour
for a kilogram of body (read in a glossary of the European Commission; 4184/3600). The met of
comfort standards, 58.2 W/m² of skin, is another one and some 30 % more for a grown person."""

BODY_MASS = 70.0
"""[kg] Of a grown person: common practice, no source. Children play harder and weigh half."""

METS_PLAYING = 3.5
"""[-] Treading water at moderate effort, 3.5; leisurely swimming 6 (Ainsworth et al., Compendium of
Physical Activities, 2011; from memory). Bathers mostly stand and play."""

SHARE_TO_WATER = 0.9
"""[-] The rest goes with breath and head to the air: ours; breath alone takes 8 % (ISO 7730)."""


@formula
def heat_bather(mets: float) -> float:
    """Heat that one bather gives the water.

    Parameters
    ----------
    mets : float
        Metabolic equivalents of what they do, 3.5 playing to 8 in a race. [-]

    Returns
    -------
    float
        [W]

    Notes
    -----
    Range: 2 to 10, bodies that have settled to the water. The energy of a met on one grown body,
    nine tenths of it to the water; doubt a third.

    References
    ----------
    .. [1] Ainsworth, B. E. et al., 2011 Compendium of Physical Activities, Medicine and Science in
       Sports and Exercise 43(8), 1575-1581 (from memory).
    """
    return mets * MET * BODY_MASS * SHARE_TO_WATER
