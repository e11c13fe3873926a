"""The plant that is there: notes that two people write, photos that are none."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from noonwater.app import plant
from noonwater.app.demos import demo_text
from noonwater.app.plant import (
    OtherNote,
    add_photo,
    copy_plant,
    photo_of,
    photos,
    picture_kind,
    plant_of,
    record_plant,
    remove_photo,
)
from noonwater.app.store import NoSuchJob, Store
from noonwater.core.errors import InputError

PNG = b"\x89PNG\r\n\x1a\n" + b"0" * 20
JPEG = b"\xff\xd8\xff\xe0" + b"0" * 20


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)


@pytest.fixture
def job(store: Store) -> str:
    return store.add(tomllib.loads(demo_text("lagoon-court"))).job


def test_notes_are_kept_and_taken_out(store: Store, job: str) -> None:
    record_plant(store, job, {"roof.age": "12 years", "pump.state": "worn"})
    record_plant(store, job, {"pump.state": "", "breaker.room": "yes"})
    assert plant_of(store, job) == {"roof.age": "12 years", "breaker.room": "yes"}


def test_what_another_wrote_since_stays_and_is_told(store: Store, job: str) -> None:
    record_plant(store, job, {"roof.age": "12 years"})
    seen: dict[str, str] = {}
    others = record_plant(store, job, {"roof.age": "10 years", "pump.age": "3"}, seen)
    assert others == (OtherNote("roof.age", "10 years", "12 years"),)
    assert plant_of(store, job) == {"roof.age": "12 years", "pump.age": "3"}


@pytest.mark.parametrize(
    ("key", "text"),
    [("chimney.age", "3"), ("pump.state", "tired"), ("roof.notes", "x" * 2001)],
)
def test_an_odd_note_is_refused_and_nothing_of_it_kept(
    store: Store, job: str, key: str, text: str
) -> None:
    with pytest.raises(InputError) as told:
        record_plant(store, job, {"roof.age": "3", key: text})
    assert told.value.faults[0].field == key
    assert plant_of(store, job) == {}


def test_photos_are_kept_listed_and_taken_out(store: Store, job: str) -> None:
    one = add_photo(store, job, "pump", PNG)
    two = add_photo(store, job, "roof", JPEG)
    assert [(photo.id, photo.part) for photo in photos(store, job)] == [
        (one, "pump"),
        (two, "roof"),
    ]
    assert photo_of(store, job, two) == ("image/jpeg", JPEG)
    remove_photo(store, job, one)
    assert [photo.id for photo in photos(store, job)] == [two]
    with pytest.raises(NoSuchJob):
        photo_of(store, job, one)


@pytest.mark.parametrize(
    "raw", [b"", b"<svg onload=alert(1)>", b"GIF89a", b"RIFF1234WAVE", b"1234WEBP5678"]
)
def test_what_is_no_picture_is_refused_by_its_content(raw: bytes) -> None:
    with pytest.raises(InputError, match="JPEG"):
        picture_kind(raw)


def test_a_webp_is_known_by_both_its_marks() -> None:
    assert picture_kind(b"RIFF\x00\x00\x00\x00WEBPVP8 ") == "image/webp"


def test_photos_have_a_size_and_a_number(
    store: Store, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(plant, "LARGEST_PHOTO", 30)
    monkeypatch.setattr(plant, "MOST_PHOTOS", 1)
    with pytest.raises(InputError, match="photo"):
        add_photo(store, job, "pump", PNG + b"0" * 30)
    with pytest.raises(InputError, match="part"):
        add_photo(store, job, "chimney", PNG)
    add_photo(store, job, "pump", PNG)
    with pytest.raises(InputError, match="take one out"):
        add_photo(store, job, "pump", PNG)


def test_a_copy_of_a_job_has_the_plant_of_the_house(store: Store, job: str) -> None:
    record_plant(store, job, {"roof.age": "12 years"})
    photo = add_photo(store, job, "roof", JPEG)
    other = store.copy(job).job
    copy_plant(store, job, other)
    assert plant_of(store, other) == {"roof.age": "12 years"}
    kept = photos(store, other)[0]
    assert photo_of(store, other, kept.id)[1] == JPEG
    remove_photo(store, other, kept.id)
    assert photos(store, job)[0].id == photo
