"""The wiring diagram: every device once, the pump's line by its kind, any name only text."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from noonwater.document.build_wiring import wiring_blocks
from noonwater.document.language import language_of
from noonwater.drawing.wiring import Device, WiringWords, wiring
from tests.papers import CODES, DEMOS, material

SVG = "{http://www.w3.org/2000/svg}"
WORDS = WiringWords("Wiring", "line", "low", "breaker", "disconnect", "controller", "pump",
                    "bonding", "command", "nothing")  # fmt: skip
DEVICES = (Device("motor", "actuator", "turns"), Device("sensor", "sensor", "roof"))


def texts(svg: str) -> list[str]:
    return [each.text or "" for each in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def groups(svg: str, name: str) -> int:
    root = ElementTree.fromstring(svg)
    return sum(each.get("class") == name for each in root.iter(f"{SVG}g"))


@pytest.mark.parametrize("count", [0, 1, 4, 9])
def test_each_device_is_drawn_within_the_controller_s_height(count: int) -> None:
    drawn = wiring(DEVICES[1:] * count, WORDS, switched=True)
    assert groups(drawn, "device") == count
    assert ("nothing" in texts(drawn)) == (count == 0)
    height = float(ElementTree.fromstring(drawn).attrib["viewBox"].split()[3])
    lines = [float(e.attrib["y1"]) for e in ElementTree.fromstring(drawn).iter(f"{SVG}line")]
    assert all(0.0 < y < height for y in lines)


def test_a_switched_pump_has_its_line_through_the_contact() -> None:
    switched, told = (wiring(DEVICES, WORDS, switched=each) for each in (True, False))
    assert switched != told
    assert 'stroke-dasharray="6 3"' in told
    assert 'stroke-dasharray="6 3"' not in switched


def test_any_name_is_only_text() -> None:
    name = "<b>&\"' #x \x00"
    drawn = wiring((replace(DEVICES[0], name=name),), replace(WORDS, pump=name), switched=True)
    assert sum(text.startswith("<b>&\"' #x") for text in texts(drawn)) == 2


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_the_job_s_sensors_and_actuators_are_on_it(demo: str, code: str) -> None:
    found, language = material(demo), language_of(code, "US")
    figure = wiring_blocks(found, language)[1]
    said = " ".join(texts(figure.svg)).lower()  # type: ignore[union-attr]
    for row in found.parts:
        if row.kind == "actuator" or "sensor on" in row.name or row.name == "pool water sensor":
            name = "actuator" if row.kind == "actuator" else row.name
            assert language.part(name).lower() in said
