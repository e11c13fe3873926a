"""What runs out, and what floods, when a part is opened."""

from __future__ import annotations

from dataclasses import dataclass, replace

from noonwater.hydraulics.trace_levels import LEVEL, Rest, Shares, settle
from noonwater.hydraulics.trace_plumbing import Plumbing, Setting, plumbing_of
from noonwater.model.circuit import Circuit

LEAST = 0.05
"""[L] Less is not told."""


@dataclass(frozen=True)
class Opening:
    """What opening one part lets out while the pump stands.

    Attributes
    ----------
    part : str
        Opened: its drain, its lid and drain plug, or its unions.
    floods : bool
        Whether open water runs out of it until it is shut again.
    head : float
        Height of that water above the opening. [m]
    litres : float
        That leave the parts and pipes besides; they run out here or into the pool. [L]
    """

    part: str
    floods: bool
    head: float
    litres: float


def flooding(plumbing: Plumbing, rest: Rest) -> dict[str, float]:
    """Openings that open water runs out of.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    rest : Rest
        Where the water has come to rest.

    Returns
    -------
    dict of str to float
        Height of the water above the lowest opening of each part. [m]
    """
    found: dict[str, float] = {}
    for water, level in plumbing.waters.items():
        stack, seen = [water], {water}
        while stack:
            here = stack.pop()
            for other, _, _ in plumbing.out[here]:
                # A place full of water passes it on however high it lies: a siphon.
                under = plumbing.elevation[other] < level + LEVEL
                if other not in seen and (under or other not in rest.air):
                    seen.add(other)
                    stack.append(other)
        for place, part in plumbing.openings.items():
            above = level - plumbing.elevation[place]
            if place in seen and above > LEVEL:
                found[part] = max(above, found.get(part, 0.0))
    return found


def opened(
    circuit: Circuit, setting: Setting, shares: Shares, residue: float, siphon_limit: float
) -> tuple[Opening, ...]:
    """Open each part alone, the pump standing, and see what comes.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    setting : Setting
        How the valves stand.
    shares : tuple of float
        How full each passage is. [-]
    residue : float
        Share of the panels' water that draining leaves. [-]
    siphon_limit : float
        Height that the atmosphere holds up. [m]

    Returns
    -------
    tuple of Opening
        Every part that water comes out of.
    """
    found = []
    for part in circuit.parts:
        if part.facts.body:
            continue
        if part.facts.settable and part.facts.air:
            changed = setting.with_position(part.name, 1.0)
        else:
            changed = replace(setting, opened=setting.opened | {part.name})
        plumbing = plumbing_of(circuit, changed, residue)
        rest = settle(plumbing, shares, None, siphon_limit)
        above = flooding(plumbing, rest).get(part.name, 0.0)
        litres = plumbing.litres(shares) - plumbing.litres(rest.shares)
        if above > 0.0 or litres > LEAST:
            found.append(Opening(part.name, above > 0.0, above, litres))
    return tuple(found)
