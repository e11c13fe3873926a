from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.drawing.lettering import Style, clean, lines_that_fit, text_line, text_width

STYLE = Style(10.0)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("  two\n lines\tand  blanks ", "two lines and blanks"),
        ("bell \x07 half \ud800", "bell \ufffd half \ufffd"),
        ("turned \u202eround\u202c", "turned round"),
        ("Müller & <b> 水池 🏊", "Müller & <b> 水池 🏊"),
    ],
)
def test_text_made_safe(typed, expected):
    assert clean(typed) == expected


@given(st.text(st.characters(), max_size=80))
def test_any_text_comes_back_from_xml_as_it_was_cleaned(typed):
    element = ElementTree.fromstring(str(text_line(1.0, 2.0, clean(typed), STYLE)))
    assert (element.text or "") == clean(typed)
    assert len(element) == 0


@given(
    st.text(st.characters(), max_size=120),
    st.floats(20.0, 400.0),
    st.integers(1, 3),
)
def test_lines_fit_and_lose_nothing_unless_they_say_so(typed, width, count):
    text = clean(typed)
    lines = lines_that_fit(text, width, count, STYLE)
    assert 1 <= len(lines) <= count
    for line in lines:
        assert text_width(line, STYLE) <= width or len(line.removesuffix("…")) == 1
    whole = "".join(lines).replace(" ", "")
    if not lines[-1].endswith("…"):
        assert whole == text.replace(" ", "")
    else:
        assert text.replace(" ", "").startswith(whole.removesuffix("…")) or text.endswith("…")


def test_words_stay_whole_where_they_can():
    assert lines_that_fit("panels on the south plane", 80.0, 3, STYLE) == (
        "panels on the",
        "south plane",
    )


def test_bold_is_wider_and_an_accent_takes_no_room():
    assert text_width("pool", Style(10.0, bold=True)) > text_width("pool", STYLE)
    assert text_width("e\u0301", STYLE) == text_width("e", STYLE)
