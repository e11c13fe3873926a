"""What can be wrong with a solar system, in the trade's words, and how often it is.

The weights say how often a cause is behind a call, against the others. They are rough: ours, of
common practice and no source. What was told soon outweighs them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

PRESSURE = (
    "Pump off at its breaker and the filter's air relief open until the gauge shows nothing, "
    "before anything is opened; stand away from the clamp at the start."
)
SUCTION = "Pump off before hand or arm comes near a suction. Never run with a cover missing."
ELECTRIC = "Electricity near water: wiring and motor are a licensed electrician's."
HOT = "The first water after standing in the sun scalds: nobody at the returns then."
ROOF = "On the roof only secured against a fall. Water that stood in the sun scalds."


@dataclass(frozen=True)
class Cause:
    """One thing that can be wrong.

    Attributes
    ----------
    key : str
        Its name in the program; of a valve with the part's name behind a colon.
    name : str
        In the trade's words.
    changes : str
        What it does.
    weight : float
        How often it is behind a call, against the others: ours. [-]
    check, remedy : str
        How to make sure, and what to do.
    caution : str
        Where checking or mending can hurt.
    """

    key: str
    name: str
    changes: str
    weight: float
    check: str
    remedy: str
    caution: str = ""

    def of_part(self, part: str) -> Cause:
        """The same of one part, named as the pad names it."""
        return replace(
            self,
            key=f"{self.key}: {part}",
            name=self.name.format(part=part),
            changes=self.changes.format(part=part),
            check=self.check.format(part=part),
            remedy=self.remedy.format(part=part),
        )


_CAUSES = (
    Cause(
        "right", "nothing is wrong", "all runs as the job says", 24.0,
        "compare a clear day's rise with the commissioning sheet",
        "tell the owner what is normal this month",
    ),
    Cause(
        "no reason", "nothing is wrong: solar has no reason to run now",
        "the sun is too weak, or the pool is as warm as wanted", 12.0,
        "pool against target, roof sensor against pool, on the controller",
        "wait for sun, or raise the target",
    ),
    Cause(
        "filter", "filter due for cleaning, or overdue",
        "more pressure before the filter, less flow", 12.0,
        "gauge against what it showed when the filter was clean",
        "clean or backwash the filter", PRESSURE,
    ),
    Cause(
        "suction", "pump strainer or suction choked",
        "less pressure, less flow, a suction that pulls harder", 7.0,
        "pump off: strainer basket, skimmer baskets, suction valves",
        "empty the baskets, clear the suction", SUCTION,
    ),
    Cause(
        "return", "return to the pool choked",
        "more pressure everywhere before it, less flow", 2.0,
        "return fittings and valves on the way to the pool all open?",
        "open or clear them", PRESSURE,
    ),
    Cause(
        "air leak", "air drawn in on the suction side",
        "bubbles in the pump and at the returns, an unsteady gauge", 6.0,
        "water level at the skimmer, the lid's seal, unions before the pump",
        "raise the water, clean and grease the seal, tighten or renew unions", SUCTION,
    ),
    Cause(
        "slow", "pump slower than the program says", "less flow, less pressure, fewer watts", 6.0,
        "speed on the pump's display against the program",
        "set the program again; look for a second controller that commands the pump", ELECTRIC,
    ),
    Cause(
        "fast", "pump faster than the program says", "more flow, more pressure, more watts", 2.0,
        "speed on the pump's display against the program",
        "set the program again", ELECTRIC,
    ),
    Cause(
        "weak", "pump weak: impeller choked or worn", "less pressure and less flow at its speed",
        3.0, "pump off at its breaker: what lies in the impeller's eye?",
        "clear the impeller; a worn one is renewed", SUCTION,
    ),
    Cause(
        "other state", "pump runs another part of its program",
        "speed and valves are those of another hour", 4.0,
        "clock and program of pump and controller", "set clock and program",
    ),
    Cause(
        "stands", "pump stands still", "nothing moves", 4.0,
        "is it heard or felt; what its display shows",
        "breaker, timer, and what the pump's own display says", ELECTRIC,
    ),
    Cause(
        "booster", "{part} does not run", "less head for what it serves", 4.0,
        "is the {part} heard or felt; its breaker and its relay",
        "breaker and relay; a stuck {part} is freed or renewed", ELECTRIC,
    ),
    Cause(
        "unprimed", "the loop has not primed: no water gets over the top",
        "the panels' top stays full of air", 4.0,
        "start anew at the priming speed and listen for water at the roof",
        "longer or faster priming; look for an air leak", ROOF,
    ),
    Cause(
        "siphon lost", "air stands in the top of the return",
        "the siphon that should help the pump is torn off: less flow", 2.0,
        "start anew at the priming speed", "longer or faster priming; look for an air leak", ROOF,
    ),
    Cause(
        "to pool", "{part} stands to the pool", "no water goes to the roof", 6.0,
        "handle of the {part}; does it turn when the controller calls by hand?",
        "actuator, its cable and its switch; turn it by hand for now", f"{ELECTRIC} {HOT}",
    ),
    Cause(
        "to roof", "{part} stands to the roof", "water runs over the roof unasked", 5.0,
        "handle of the {part}; does it turn when the controller stops?",
        "actuator, its cable and its switch; turn it by hand for now", ELECTRIC,
    ),
    Cause(
        "between", "{part} stopped between its ends", "part of the water goes to the roof", 3.0,
        "handle of the {part} against its stops", "set the stops, or renew the actuator", ELECTRIC,
    ),
    Cause(
        "valve open", "{part} stands more open than set",
        "water takes the way through the {part}", 3.0, "handle of the {part}",
        "turn the {part} back to its mark",
    ),
    Cause(
        "valve shut", "{part} stands shut or nearly shut",
        "less water or none through the {part}", 3.0, "handle of the {part}",
        "pump off, then turn the {part} back to its mark", PRESSURE,
    ),
    Cause(
        "check shut", "{part} stuck shut", "no water through the {part}", 2.0,
        "pump off: open the {part} and move its flap",
        "clear or renew the flap", PRESSURE,
    ),
    Cause(
        "check leaks", "{part} leaks or its flap is gone", "water runs backward past the {part}",
        3.0, "pump off: open the {part} and look at flap and seat",
        "renew flap or valve", PRESSURE,
    ),
    Cause(
        "breaker open", "vacuum breaker stuck open", "air comes in, or water goes out, at the roof",
        2.0, "does it hiss or drip while solar runs?", "clean or renew the breaker", ROOF,
    ),
    Cause(
        "breaker shut", "vacuum breaker stuck shut", "panels do not drain when the pump stops", 2.0,
        "pump off: is air heard at the breaker?",
        "clean or renew the breaker before the first frost", ROOF,
    ),
    Cause(
        "plugged", "panels partly plugged", "less water through the panels, each kelvin dearer",
        2.0, "rise of each bank; cold and hot panels side by side",
        "flush the panels; strainer before them", ROOF,
    ),
    Cause(
        "sensor low", "roof sensor reads low", "solar starts late or not at all", 3.0,
        "its resistance against its own sheet's table; does it see the panels' sun?",
        "mend wire and splice, move the sensor", ROOF,
    ),
    Cause(
        "sensor high", "roof sensor reads high", "solar does not stop", 2.0,
        "its resistance against its own sheet's table",
        "mend wire and splice, renew the sensor", ROOF,
    ),
    Cause(
        "sensor dead", "roof sensor or its wire dead", "solar does not start", 4.0,
        "its resistance: without end is a broken wire, nothing is a short",
        "mend the wire or renew the sensor", ROOF,
    ),
    Cause(
        "table", "controller reads the sensor by another table", "the temperature shown is wrong",
        1.0, "resistance and temperature shown against the sensor's own sheet",
        "set the sensor's kind on the controller, or fit the right one",
    ),
    Cause(
        "settings", "controller off, in manual, or its target too low", "solar does not start", 6.0,
        "mode, target and hours on the controller", "set them as the job says", HOT,
    ),
    Cause(
        "none", "none of these fits", "one reading is wrong, or it is something else", 2.0,
        "take the readings again, each by another eye", "go and see",
    ),
)  # fmt: skip

CAUSES = {cause.key: cause for cause in _CAUSES}
"""By key."""
