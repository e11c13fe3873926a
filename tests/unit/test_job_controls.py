"""What a job file may say about program and controls, and how a wrong word is told."""

from __future__ import annotations

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.job_file import job_text, read_job_text
from noonwater.core.errors import InputError
from noonwater.design.sensor_table import resistance_at

BASE = demo_text("orchard-hill")
SPEED = 'speed = "1800 rpm"'
CONTROLS = "[controls]\n"


def with_line(after: str, line: str, text: str = BASE) -> str:
    assert after in text
    return text.replace(
        after, f"{after}\n{line}" if not after.endswith("\n") else f"{after}{line}\n"
    )


def test_all_of_it_is_read_and_written_unchanged() -> None:
    text = BASE.replace(SPEED, 'flow = "30 gpm"\npurpose = "clean"\nsolar = false')
    text = text.replace(
        'solar_speed = "2700 rpm"', 'solar_flow = "40 gpm"\nfreeze_speed = "1500 rpm"'
    )
    for line in (
        'least_run = "5 min"',
        'least_rest = "3 min"',
        'sensor = "free air"',
        'sensor_shade = "30 %"',
        'cooling_target = "88 °F"',
        "cooling_months = [7, 8]",
        'freeze = "circulate"',
        'freeze_trip = "42 °F"',
        'freeze_watch = "sensor"',
    ):
        text = with_line(CONTROLS, line, text)
    job = read_job_text(text)
    assert job.pump.program[0].speed is None
    assert job.pump.program[0].flow == pytest.approx(30 * 6.30902e-5, rel=1e-5)
    assert job.controls.cooling_target == pytest.approx(31.11, abs=0.01)
    assert job.controls.least_run == 300.0
    assert read_job_text(job_text(job)) == job


def test_a_plain_job_has_today_s_controls() -> None:
    controls = read_job_text(BASE).controls
    assert (controls.sensor, controls.freeze, controls.cooling_target) == (
        "panel piece",
        "none",
        None,
    )
    assert (controls.least_run, controls.least_rest, controls.sensor_shade) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        (BASE.replace(SPEED, ""), "pump.program[0]", ("neither", "one of the two")),
        (with_line(SPEED, 'flow = "30 gpm"'), "pump.program[0]", ("both", "one of the two")),
        (
            with_line('solar_speed = "2700 rpm"', 'solar_flow = "40 gpm"'),
            "pump",
            ("solar_flow", "one of the two"),
        ),
        (
            with_line('solar_speed = "2700 rpm"', 'freeze_speed = "3500 rpm"'),
            "pump.freeze_speed",
            ("3500", "3450"),
        ),
        (
            with_line(CONTROLS, 'cooling_target = "82 °F"'),
            "controls.cooling_target",
            ("82 °F", "83.1 °F or more"),
        ),
        (
            with_line(CONTROLS, 'cooling_target = "88 °F"').replace('"differential"', '"timer"'),
            "controls.cooling_target",
            ("88 °F", "timer knows no temperature"),
        ),
        (
            with_line(CONTROLS, 'freeze = "drain"').replace('"differential"', '"timer"'),
            "controls.freeze",
            ("drain", "timer knows no temperature"),
        ),
        (
            with_line(CONTROLS, 'sensor = "panel peice"'),
            "controls.sensor",
            ("panel peice", 'did you mean "panel piece"'),
        ),
        (with_line(CONTROLS, "cooling_months = [13]"), "controls.cooling_months[0]", ("13", "12")),
        (with_line(CONTROLS, "least_run = 5"), "controls.least_run", ("5", "min")),
        (with_line(SPEED, 'purpose = "sweep"'), "pump.program[0].purpose", ("sweep", "clean")),
    ],
)
def test_a_wrong_word_is_told_at_its_field(text: str, field: str, words: tuple[str, ...]) -> None:
    with pytest.raises(InputError) as told:
        read_job_text(text)
    faults = [fault for fault in told.value.faults if fault.field == field]
    assert len(faults) == 1, str(told.value)
    for word in words:
        assert word in str(faults[0])


def with_ohms(*points: tuple[str, str]) -> str:
    tables = "".join(
        f'\n[[controls.sensor_ohms]]\ntemperature = "{temp}"\nresistance = "{ohms}"\n'
        for temp, ohms in points
    )
    return BASE.replace("\n# Prices are invented", f"{tables}\n# Prices are invented", 1)


def test_the_sensor_s_table_is_read_and_lies_between_its_points() -> None:
    text = with_ohms(("32 °F", "32650 ohm"), ("77 °F", "10 kohm"), ("50 °C", "3.603 kΩ"))
    job = read_job_text(text)
    points = job.controls.sensor_ohms
    assert [point.resistance for point in points] == pytest.approx([32650.0, 10000.0, 3603.0])
    assert read_job_text(job_text(job)) == job
    assert resistance_at(25.0, points) == pytest.approx(10000.0)
    found = resistance_at(10.0, points)
    assert found is not None
    assert 10000.0 < found < 32650.0
    assert resistance_at(-1.0, points) is None
    assert resistance_at(51.0, points) is None


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ((("77 °F", "10 kohm"), ("32 °F", "32650 ohm")), "temperatures that rise"),
        ((("32 °F", "9 kohm"), ("77 °F", "10 kohm"), ("90 °F", "9 kohm")), "only falls"),
        ((("32 °F", "9 gpm"),), "ohm"),
    ],
)
def test_a_wrong_table_of_the_sensor_is_told(
    points: tuple[tuple[str, str], ...], words: str
) -> None:
    with pytest.raises(InputError, match=words):
        read_job_text(with_ohms(*points))
