"""What to set a pad to, as JSON and as text."""

from __future__ import annotations

from math import ceil
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from noonwater.app.text import number
from noonwater.core.units import System, in_system, unit_label

if TYPE_CHECKING:
    from noonwater.hydraulics.spread import PanelSpread, Share
    from noonwater.hydraulics.start_pressure import StartPressure
    from noonwater.hydraulics.targets import Start, Targets
    from noonwater.hydraulics.wanted_flow import HandSetting

PER_HOUR = 3600.0
WIDTH = 100
FILTERS = ("clean", "dirty")


def targets_dict(targets: Targets) -> dict[str, Any]:
    """Give the targets for JSON; speeds are by filter, null where the pump does not reach them."""
    starts = dict(zip(FILTERS, targets.priming, strict=True))
    breakers: dict[str, dict[str, dict[str, float | None]]] = {}
    for entry in targets.breakers:
        place = breakers.setdefault(entry.place, {"static": {}, "total": {}})
        word = FILTERS[int(entry.filter_load)]
        place["static"][word], place["total"][word] = entry.speed_static, entry.speed_total
    start = targets.start
    return {
        "head_margin": targets.head_margin,
        "speed_to_prime_rpm": {word: entry.speed_to_prime for word, entry in starts.items()},
        "speed_flow_begins_rpm": {word: entry.speed_flow_begins for word, entry in starts.items()},
        "down_leg": targets.priming[0].down_leg,
        "flow_to_prime_m3h": targets.priming[0].flow_needed * PER_HOUR,
        "speed_breaker_shut_rpm": breakers,
        "starts": [_start(entry) for entry in targets.starts],
        "start": {
            "rpm": start.speed,
            "pressure_flowing_Pa": start.flowing,
            "pressure_standing_Pa": start.standing,
            "pressure_return_shut_Pa": start.blocked,
            "panel": start.panel,
            "limit_Pa": start.limit,
            "within": start.within,
        },
        "panel_spread": [_spread(entry) for entry in targets.spreads],
        "speed_for_flow": {
            "flow_m3h": targets.speed.wanted * PER_HOUR,
            "rpm": targets.speed.speed,
            "least_m3h": targets.speed.least * PER_HOUR,
            "most_m3h": targets.speed.most * PER_HOUR,
        },
        "handle_for_flow": [_hand(entry) for entry in targets.hand],
    }


def _start(entry: Start) -> dict[str, Any]:
    return {
        "state": entry.state,
        "rpm": entry.speed,
        "speed_to_prime_rpm": dict(
            zip(FILTERS, (found.speed_to_prime for found in entry.priming), strict=True)
        ),
        "primes": {"clean": entry.primes(0.0), "dirty": entry.primes(1.0)},
    }


def _spread(entry: PanelSpread) -> dict[str, Any]:
    def share(at: Share) -> dict[str, Any]:
        return {
            "theta_dividing": at.theta_dividing,
            "theta_combining": at.theta_combining,
            "least": at.least,
            "most": at.most,
            "least_fed": at.least_fed,
        }

    return {
        "state": entry.state,
        "friction_only": share(entry.friction_only),
        "low": share(entry.low),
        "high": share(entry.high),
    }


def _hand(entry: HandSetting) -> dict[str, Any]:
    return {
        "valve": entry.valve,
        "rpm": entry.speed,
        "flow_m3h": entry.wanted * PER_HOUR,
        "opening": entry.opening,
        "handle_angle_deg": entry.handle_angle,
        "K": entry.K,
        "least_m3h": entry.least * PER_HOUR,
        "most_m3h": entry.most * PER_HOUR,
    }


def target_lines(targets: Targets, system: System) -> list[str]:
    """Tell what to set the pad to."""
    said = [
        _start_words(targets),
        *(_breaker_words(targets, place) for place in _places(targets)),
        _flow_words(targets, system),
        *(_hand_words(entry, system) for entry in targets.hand),
        _pressure_words(targets.start, system),
        *(
            f"{entry.state}: panels get {_share(entry.low)} to {_share(entry.high)} of their mean,"
            " over the range of the headers' momentum"
            for entry in targets.spreads
        ),
    ]
    lines = ["What to set"]
    for words in said:
        lines += wrap(words, WIDTH, initial_indent="  ", subsequent_indent="    ")
    return lines


def _start_words(targets: Targets) -> str:
    clean, dirty = targets.priming
    begins, primes = clean.speed_flow_begins, clean.speed_to_prime
    words = (
        f"a start carries the air down the return from {_both(primes, dirty.speed_to_prime)}"
        f" (the pump's shut-off head, extrapolated, taken at {number(100 * targets.head_margin)} %)"
    )
    if begins is not None and begins != primes:
        words += f"; water first runs over the top at {_rpm(begins)}, but that leaves the air there"
    return words


def _places(targets: Targets) -> tuple[str, ...]:
    return tuple(dict.fromkeys(entry.place for entry in targets.breakers))


def _breaker_words(targets: Targets, place: str) -> str:
    speeds = [entry.speed_static for entry in targets.breakers if entry.place == place]
    what = f"a vacuum breaker at the {place} stays shut, by static pressure,"
    if place == "none":
        what = "without a vacuum breaker the siphon holds"
    return f"{what} from {_both(*speeds)}"


def _flow_words(targets: Targets, system: System) -> str:
    flow = targets.speed
    speed = _rpm(flow.speed) if flow.reachable else _not_reached(flow.least, flow.most, system)
    return (
        f"{_shown(flow.wanted, 'flow', system)} on the roof, what the panels are made for: {speed}"
    )


def _pressure_words(start: StartPressure, system: System) -> str:
    shut = ""
    if start.blocked > max(start.limit, start.standing):
        shut = (
            f"; {_shown(start.blocked, 'pressure', system)} with the roof return shut: never start"
            " so"
        )
    return (
        f"a start at {_rpm(start.speed)} with the diverter on solar:"
        f" {_shown(start.flowing, 'pressure', system)} at the panels,"
        f" {_shown(start.standing, 'pressure', system)} while no water gets through;"
        f" {'within' if start.within else 'BEYOND'} the limit of {start.panel},"
        f" {_shown(start.limit, 'pressure', system)} when cool{shut}"
    )


def _hand_words(entry: HandSetting, system: System) -> str:
    words = f"{entry.valve} for {_shown(entry.wanted, 'flow', system)} at {_rpm(entry.speed)}: "
    if entry.opening is None:
        return words + _not_reached(entry.least, entry.most, system)
    if entry.handle_angle is None:
        return words + f"{number(100 * entry.opening)} % toward the roof"
    angle = number(entry.handle_angle)
    return words + f"handle {angle}° off the pipe's line, by a table; check by the gauge"


def _not_reached(least: float, most: float, system: System) -> str:
    if most - least < 0.01 * most:
        return f"not reachable by it, it gives {_shown(most, 'flow', system)}"
    return f"not reachable; {_shown(least, 'flow', system)} to {_shown(most, 'flow', system)} are"


def _both(clean: float | None, dirty: float | None) -> str:
    return f"{_rpm(clean)}, with a dirty filter {_rpm(dirty)}"


def _rpm(speed: float | None) -> str:
    return "no speed of this pump" if speed is None else f"{ceil(speed)} rpm"


def _share(share: Share) -> str:
    return f"{number(100 * share.least)}-{number(100 * share.most)} %"


def _shown(value: float, kind: str, system: System) -> str:
    return f"{number(in_system(value, kind, system), 1)} {unit_label(kind, system)}"
