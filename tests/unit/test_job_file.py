"""Job files that are wrong, each in one way or in many, and what is said about them."""

from __future__ import annotations

from pathlib import Path

import pytest

from noonwater.app.demos import demo_text, demos
from noonwater.app.job_file import job_text, read_job, read_job_text, write_job
from noonwater.core.errors import Fault, InputError

BASE = demo_text("lagoon-court")


def faults(text: str, folder: Path | None = None) -> dict[str, Fault]:
    with pytest.raises(InputError) as refused:
        read_job_text(text, "job.toml", folder)
    told = refused.value.faults
    assert len({fault.field for fault in told}) == len(told), "a field is told twice"
    for line in str(refused.value).split("\n"):
        assert line.startswith("job.toml: ")
    return {fault.field: fault for fault in told}


def changed(*swaps: tuple[str, str]) -> str:
    text = BASE
    for old, new in swaps:
        assert old in text, old
        text = text.replace(old, new)
    return text


def test_a_right_file_is_read_into_si() -> None:
    job = read_job_text(BASE)
    assert job.pool.depth == pytest.approx(4.5 * 0.3048)
    assert job.pool.target == pytest.approx((84 - 32) / 1.8)
    assert job.roof[1].bearing == 270
    assert job.array.banks[1].panels == 3
    assert job.pump.program[1].solar is False
    assert job.controls.on_difference == pytest.approx(5)


@pytest.mark.parametrize(
    ("swap", "field", "given", "allowed", "remedy"),
    [
        # a bare number, as a number and as text
        (('"4.5 ft"', "4.5"), "pool.depth", "4.5", "length", 'write "4.5 ft" or "4.5 m"'),
        (('"4.5 ft"', '"4.5"'), "pool.depth", "without a unit", "length", '"4.5 ft"'),
        (('"4.5 ft"', "true"), "pool.depth", "true", "length", ""),
        (('"4.5 ft"', '["4.5 ft"]'), "pool.depth", "4.5 ft", "length", ""),
        # another dimension
        (('"84 °F"', '"84 psi"'), "pool.target", "a pressure", "84 °F", ""),
        # a misspelt key, once and not as a missing one too
        (("depth =", "dept ="), "pool.dept", "no such key", "depth", 'did you mean "depth"?'),
        # a missing key
        (('depth = "4.5 ft"\n', ""), "pool.depth", "missing", "mean depth", 'add: depth = "'),
        (("[site]", "[place]"), "place", "no such key", "site", ""),
        (('name = "Lagoon Court"\n', ""), "name", "missing", "text", "add: name"),
        # out of range, in the unit that was written
        (('"4.5 ft"', '"45 ft"'), "pool.depth", '"45 ft"', "0.6562 ft to 19.68 ft", ""),
        (('"84 °F"', '"184 °F"'), "pool.target", '"184 °F"', "50 °F to 104 °F", ""),
        (('"84 °F"', '"84 °C"'), "pool.target", '"84 °C"', "10 °C to 40 °C", ""),
        (("panels = 6", "panels = 0"), "array.banks[0].panels", "0", "1 to 60", ""),
        # no whole numbers
        (
            ("panels = 6", 'panels = "6"'),
            "array.banks[0].panels",
            '"6"',
            "whole",
            "write 6 without",
        ),
        (("panels = 6", "panels = 6.0"), "array.banks[0].panels", "6.0", "whole", ""),
        (("panels = 6", "panels = true"), "array.banks[0].panels", "true", "whole", ""),
        (("panels = 6", "panels = nan"), "array.banks[0].panels", "nan", "whole", ""),
        # unknown choices
        (('"bubble"', '"buble"'), "pool.cover.kind", '"buble"', '"bubble"', "bubble"),
        (('"Miami"', '"Miamy"'), "weather.year", '"Miamy"', '"Miami"', "Miami"),
        (('"shipped"', '"shiped"'), "weather.source", '"shiped"', '"stations"', "shipped"),
        (('source = "shipped"\n', ""), "weather.source", "missing", '"file"', "add: source"),
        (('"diverter"', '"three-way"'), "pad.arrangement", '"three-way"', '"diverter"', ""),
        # times and days
        (('"08:00"', '"25:00"'), "pump.program[0].start", '"25:00"', "time of day", ""),
        (('"08:00"', "08:00:00"), "pump.program[0].start", "08:00:00", "time of day", ""),
        (('"01-01"', '"02-30"'), "pool.opens", '"02-30"', "month and day", ""),
        (("[11, 12, 1, 2, 3]", "[13]"), "pool.cover.months[0]", "13", "1 to 12", ""),
        # across fields and tables
        (('"20:00"', '"10:00"'), "pump.program", "two periods at 08:00", "not overlap", ""),
        (('"4 °F"', '"14 °F"'), "controls.off_difference", '"14 °F"', '"9 °F"', ""),
        (('roof = "west"', 'roof = "wset"'), "array.banks[1].roof", '"wset"', '"south"', "west"),
        (('sensor_roof = "south"', 'sensor_roof = "x"'), "controls.sensor_roof", '"x"', "west", ""),
        (('"variable medium"', '"variable medum"'), "pump.pump", "medum", "single", "medium"),
        (('"cartridge"', '"cartrige"'), "pad.filter", '"cartrige"', "sand", "cartridge"),
        (('heater = "none"', 'heater = "gass"'), "pad.heater", '"gass"', "gas", "gas"),
        (('"2 in"', '"2.2 in"'), "pad.pipe", '"2.2 in"', "2.5 in schedule 40", ""),
        (('"1300 rpm"', '"440 rpm"'), "pump.program[1].speed", '"440 rpm"', "450 rpm", ""),
        (('"2800 rpm"', '"3500 rpm"'), "pump.solar_speed", '"3500 rpm"', "3450 rpm", ""),
        (('"0.15 USD', '"0.15 EUR'), "money.electricity", "EUR", "USD", 'write currency = "EUR"'),
        # format
        (("format = 1", ""), "format", "missing", "1", "add at the top: format = 1"),
        (("format = 1", "format = 2"), "format", "2", "1", "update Noonwater"),
        (("format = 1", "format = 0"), "format", "0", "1", ""),
        (("format = 1", 'format = "1"'), "format", "'1'", "1", ""),
        (("format = 1", "format = true"), "format", "True", "1", ""),
        # shapes
        (("[site]", "[[site]]"), "site", "an array", "a table", "one bracket"),
        (('name = "Lagoon Court"', "name = 7"), "name", "7", "text", 'write "7" in quotes'),
    ],
)
def test_one_fault_is_one_clear_line(
    swap: tuple[str, str], field: str, given: str, allowed: str, remedy: str
) -> None:
    told = faults(changed(swap))
    assert field in told
    extra = {"site", *told} - {field} if field == "place" else set(told) - {field}
    assert extra <= {"site"} if field == "place" else not extra, told
    assert given in told[field].given
    assert allowed in told[field].allowed
    assert remedy in told[field].remedy


def test_two_planes_of_one_name() -> None:
    told = faults(changed(('name = "west"', 'name = "south"'), ('roof = "west"', 'roof = "south"')))
    assert list(told) == ["roof[1].name"]
    assert "roof[0].name" in told["roof[1].name"].allowed


def test_one_bracket_where_two_belong() -> None:
    text = BASE[: BASE.index("[[roof]]")] + BASE[BASE.index("[[array.banks]]") :]
    told = faults(text.replace("[site]", "[roof]\n[site]"))
    assert told["roof"].remedy == "write [[roof]] with two brackets"


def test_all_faults_of_a_file_at_once() -> None:
    told = faults(
        changed(
            ("format = 1\n", ""),
            ('"Miami"', '"Miamy"'),
            ('"4.5 ft"', "4.5"),
            ("target =", "targit ="),
            ('"01-01"', '"13-01"'),
            ('"bubble"', '"buble"'),
            ("panels = 3", "panels = 99"),
            ('roof = "west"', 'roof = "wset"'),
            ('panel = "tube 4x12"', 'panel = "tub 4x12"'),
            ('"2 in"', '"2 psi"'),
            ('"2800 rpm"', '"9000 rpm"'),
            ('"9 °F"', '"9 ft"'),
            ('heater = "none"', 'heater = "gass"\nextra = 1'),
        )
    )
    assert set(told) == {
        *("format", "weather.year", "pool.depth", "pool.targit", "pool.opens", "pool.cover.kind"),
        *("array.banks[1].panels", "array.banks[1].roof", "array.banks[0].panel"),
        *("array.banks[1].panel", "pad.pipe", "pump.solar_speed", "controls.on_difference"),
        *("pad.heater", "pad.extra"),
    }


def test_twelve_months_that_are_not_twelve() -> None:
    months = 'source = "months"\nutc_offset = "-5 h"\nsun = ["3 kWh/m2/day"]\nair = [5]\nwind = []'
    told = faults(changed(('source = "shipped"\nyear = "Miami"', months)))
    assert told["weather.sun"].given == "1 item"
    assert told["weather.air[0]"].remedy == 'write "5 °F" or "5 °C"'
    assert told["weather.wind"].given == "0 items"
    assert told["weather.dew_point"].given == "missing"


def test_a_weather_file_is_looked_for_beside_the_job(tmp_path: Path) -> None:
    text = changed(('source = "shipped"\nyear = "Miami"', 'source = "file"\nfile = "mine.epw"'))
    assert "no such file" in faults(text, tmp_path)["weather.file"].given
    (tmp_path / "mine.epw").write_text("anything")
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    job = read_job(tmp_path / "job.toml")
    assert job.weather.file == str(tmp_path / "mine.epw")
    assert read_job_text(text).weather.file == "mine.epw"


def test_quantities_without_quotes_are_all_named_with_line_and_column() -> None:
    told = faults(changed(('"420 ft2"', "420 ft2"), ('"4.5 ft"', "4.5 ft"), ('"4:12"', "4:12")))
    assert [fault.remedy for fault in told.values()] == [
        'write area = "420 ft2"',
        'write depth = "4.5 ft"',
        'write pitch = "4:12"',
        'write pitch = "4:12"',
    ]
    assert next(iter(told)) == f"line {BASE[: BASE.index('area =')].count(chr(10)) + 1}, column 8"


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ('name = "open', "line 1, column"),
        ("[site\n", "line 1, column"),
        ("format = 1\nformat = 2", "line 2, column"),
        ("a = [1,\n", "line 1, column"),
        ("= 3", "line 1, column 1"),
    ],
)
def test_broken_toml_is_told_with_line_and_column(text: str, where: str) -> None:
    assert next(iter(faults(text))).startswith(where)


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 100_000,
        "a." * 5000 + "b = 1",
        "x = " + "9" * 6000,
        'format = 1\nname = "' + "n" * 100_000 + '"',
        '"a\\nb\\u202e" = 1',
        "name = 1979-05-27",
        "name = nan",
        "pool = {}",
        "",
        "# nothing",
    ],
)
def test_strange_texts_are_refused_line_by_line(text: str) -> None:
    for fault in faults(text).values():
        assert len(str(fault)) < 1000
        assert "\n" not in str(fault)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b" \n\t\n", "empty"),
        (b"\x7fELF\x00\x01", "null bytes"),
        ("name = 1".encode("utf-16"), "UTF-16"),
        (b'format = 1\nname = "caf\xe9"\n', "line 2"),
        (b"#" * 50_000_000, "larger than 1000 kB"),
    ],
)
def test_files_that_are_no_text(tmp_path: Path, content: bytes, said: str) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    with pytest.raises(InputError) as refused:
        read_job(path)
    assert said in refused.value.faults[0].given
    assert str(refused.value).startswith(str(path))


def test_places_that_are_no_file(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"there is none of this name.*noonwater new"):
        read_job(tmp_path / "absent.toml")
    with pytest.raises(InputError, match="a folder"):
        read_job(tmp_path)
    with pytest.raises(InputError, match="can't be read"):
        read_job(tmp_path / "a\0b")


def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + BASE.replace("\n", "\r\n").encode())
    assert read_job(path) == read_job_text(BASE)


@pytest.mark.parametrize("name", [demo.name for demo in demos()])
def test_a_demo_comes_back_from_its_file(name: str, tmp_path: Path) -> None:
    job = read_job_text(demo_text(name))
    write_job(job, tmp_path / "job.toml")
    assert read_job(tmp_path / "job.toml") == job
    text = job_text(job)
    assert job_text(read_job_text(text)) == text
    assert text.startswith("format = 1\n")


def test_a_job_is_written_in_its_own_units() -> None:
    assert 'depth = "4.5 ft"' in job_text(read_job_text(BASE))
    assert 'target = "84 °F"' in job_text(read_job_text(BASE))
    metric = read_job_text(changed(('units = "US"', 'units = "SI"')))
    assert 'pipe = "50.8 mm"' in job_text(metric)
