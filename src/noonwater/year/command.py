"""What the controller decides in a step: rest, heat, cool, or circulate against frost."""

from __future__ import annotations

from typing import NamedTuple

from noonwater.core.jit import inlined
from noonwater.year.parameters import (
    BEFORE,
    POOL,
    RUNNING,
    SENSOR,
    SINCE,
    ControlFigures,
    Floats,
)

# What the water does on the roof; the state's RUNNING holds one of them.
RESTING, HEATING, COOLING, CIRCULATING = 0.0, 1.0, 2.0, 3.0

FREEZE_DEADBAND = 1.0
"""[K] Circulation against frost ends this far above its trip: ours; without it the pump hunts."""


class Command(NamedTuple):
    """Thresholds of the controller: floats only, so that a compiled loop hands them on as they are.

    Attributes
    ----------
    timer : float
        1 where the clock alone commands.
    target, deadband : float
        Heating stops at target + deadband and starts below target. [°C], [K]
    on_difference, off_difference : float
        Sensor above pool to heat, below it to cool. [K]
    cooling_target : float
        Cooling starts above it and stops at it less the deadband. [°C]
    least_run, least_rest : float
        [s]
    """

    timer: float
    target: float
    deadband: float
    on_difference: float
    off_difference: float
    cooling_target: float
    least_run: float
    least_rest: float


@inlined
def command_of(control: ControlFigures) -> Command:
    """Take the thresholds out of the controller's figures."""
    return Command(
        0.0 if control.differential else 1.0,
        control.target,
        control.deadband,
        control.on_difference,
        control.off_difference,
        control.cooling_target,
        control.least_run,
        control.least_rest,
    )


@inlined
def solar_wanted(
    running: bool,
    temp_pool: float,
    temp_sensor: float,
    target: float,
    deadband: float,
    on_difference: float,
    off_difference: float,
) -> bool:
    """Decide whether water should go to the roof.

    Parameters
    ----------
    running : bool
        Whether it does now.
    temp_pool, temp_sensor, target : float
        [°C]
    deadband, on_difference, off_difference : float
        [K]

    Returns
    -------
    bool
        True where solar should run.

    Notes
    -----
    Differential with two thresholds; stops at target + deadband, starts below the target.
    Common practice, no source.
    """
    if running:
        return temp_pool < target + deadband and temp_sensor - temp_pool > off_difference
    return temp_pool < target and temp_sensor - temp_pool >= on_difference


@inlined
def mode_wanted(
    mode: float,
    since: float,
    temp_pool: float,
    temp_sensor: float,
    may_heat: bool,
    may_cool: bool,
    command: Command,
) -> float:
    """Decide what the water should do on the roof, frost left aside.

    Parameters
    ----------
    mode : float
        What it does now.
    since : float
        Time since water last came to the roof or left it. [s]
    temp_pool, temp_sensor : float
        [°C]
    may_heat, may_cool : bool
        Whether program and calendar allow it.
    command : Command
        Thresholds.

    Returns
    -------
    float
        RESTING, HEATING or COOLING.

    Notes
    -----
    Cooling is heating upside down: pool and sensor change places and the pool's own limit turns
    round. A run shorter than the least run goes on as long as program and calendar allow it, a
    rest shorter than the least rest holds; a timer knows neither. Common practice, no source.
    """
    if command.timer == 1.0:
        return HEATING if may_heat else RESTING
    wanted = RESTING
    if may_heat and solar_wanted(
        mode == HEATING,
        temp_pool,
        temp_sensor,
        command.target,
        command.deadband,
        command.on_difference,
        command.off_difference,
    ):
        wanted = HEATING
    elif may_cool and solar_wanted(
        mode == COOLING,
        -temp_pool,
        -temp_sensor,
        -command.cooling_target,
        command.deadband,
        command.on_difference,
        command.off_difference,
    ):
        wanted = COOLING
    if mode == RESTING:
        return RESTING if since < command.least_rest else wanted
    held = (mode == HEATING and may_heat) or (mode == COOLING and may_cool)
    return mode if held and since < command.least_run else wanted


@inlined
def mode_in_frost(
    mode: float, since: float, temp_watched: float, trip: float, command: Command
) -> float:
    """Decide whether pool water goes round through resting panels so that they don't freeze.

    Parameters
    ----------
    mode : float
        What the water does on the roof now.
    since : float
        Time since water last came to the roof or left it. [s]
    temp_watched, trip : float
        Temperature watched, and the one below which it starts. [°C]
    command : Command
        For the least run.

    Returns
    -------
    float
        CIRCULATING or RESTING; no least rest holds frost back.

    Notes
    -----
    Common practice, no source.
    """
    if mode == CIRCULATING:
        held = since < command.least_run or temp_watched < trip + FREEZE_DEADBAND
        return CIRCULATING if held else RESTING
    return CIRCULATING if temp_watched < trip else RESTING


@inlined
def mode_in_step(
    state: Floats,
    control: ControlFigures,
    command: Command,
    may_heat: bool,
    may_cool: bool,
    temp_watched: float,
) -> float:
    """Decide what the water does on the roof in a step, frost included.

    Parameters
    ----------
    state : (BANKS + banks,) array
        As it is before the step; BEFORE is set anew.
    control : ControlFigures
        Freeze action.
    command : Command
        Thresholds.
    may_heat, may_cool : bool
        Whether program and calendar allow it.
    temp_watched : float
        What the freeze action watches. [°C]

    Returns
    -------
    float
        RESTING, HEATING, COOLING or CIRCULATING.

    Notes
    -----
    The decision holds for the whole step, so running solar is judged by the pool at the step's
    middle, as the last step moved it: by the temperature at its start it would always stop late.
    """
    moved = 0.0 if state[RUNNING] == RESTING else state[POOL] - state[BEFORE]
    middle = state[POOL] + 0.5 * moved
    state[BEFORE] = state[POOL]
    mode = mode_wanted(
        state[RUNNING],
        state[SINCE],
        middle,
        state[SENSOR],
        may_heat,
        may_cool,
        command,
    )
    if control.freeze_row >= 0 and mode == RESTING:
        mode = mode_in_frost(
            state[RUNNING], state[SINCE], temp_watched, control.freeze_trip, command
        )
    return mode
