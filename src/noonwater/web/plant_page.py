"""The plant that is there: age, state and notes of each part, and photos."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import htpy as h

from noonwater.app.plant import LARGEST_PHOTO, Noted, Photo, PlantPart, plant_parts
from noonwater.app.store import Entry
from noonwater.core.errors import Fault
from noonwater.web.fault_words import fault_line
from noonwater.web.figures import moment
from noonwater.web.page import beside_page
from noonwater.web.sheet import Sheet


def plant_page(
    entry: Entry,
    seen: Mapping[str, str],
    notes: Mapping[str, str],
    pictures: Sequence[Photo],
    *,
    sheets: Sequence[Sheet],
    faults: Sequence[Fault] = (),
) -> str:
    """Write the page.

    Parameters
    ----------
    entry : Entry
        The job.
    seen, notes : mapping of str to str
        What stands in the store, and in the fields.
    pictures : sequence of Photo
        Of the plant.
    sheets : sequence of Sheet
        Of the job.
    faults : sequence of Fault
        Of what was sent.
    """
    parts, job, name = plant_parts(), entry.id, entry.name
    return beside_page(
        entry,
        "plant",
        sheets,
        h.h1[f"The plant that is there: {name}"],
        [h.p(class_="wrong", role="alert")[fault_line(fault)] for fault in faults],
        h.form(id="plant", method="post", action=f"/jobs/{job}/plant", data_keep=f"plant {job}")[
            [h.input(type="hidden", name=f"seen {key}", value=text) for key, text in seen.items()],
            plant_fields(notes),
            h.button(class_="do")["Save notes"],
        ],
        _photos(job, pictures, parts),
    )


def plant_fields(notes: Mapping[str, str]) -> h.Element:
    """Lay out the notes, a panel a part."""
    return h.div(class_="columns")[
        [
            h.fieldset(class_="schedule")[
                h.legend[part.words], [_note(noted, notes) for noted in part.noted]
            ]
            for part in plant_parts()
        ]
    ]


def _note(noted: Noted, notes: Mapping[str, str]) -> h.Element:
    identity, value = f"p-{noted.key.replace('.', '-')}", notes.get(noted.key, "")
    common = {"id": identity, "name": noted.key, "data-note": noted.key}
    control: h.Element | h.VoidElement
    if noted.choices:
        control = h.select(common)[
            [h.option(value=each, selected=each == value)[each or "–"] for each in noted.choices]
        ]
    elif noted.key.endswith("notes"):
        control = h.textarea(common, rows="2", autocomplete="off")[value]
    else:
        control = h.input(common, value=value, autocomplete="off", placeholder="years, or since")
    kind = "row tall" if noted.key.endswith("notes") else "row noted"
    return h.div(class_=kind)[h.label(for_=identity)[noted.words], control]


def _photos(job: str, pictures: Sequence[Photo], parts: Sequence[PlantPart]) -> h.Element:
    words = {part.key: part.words for part in parts}
    return h.section[
        h.h2["Photos"],
        h.form(id="photo", method="post", action=f"/jobs/{job}/photos",
               enctype="multipart/form-data", class_="line")[
            h.label(for_="photo-part")["Of"],
            h.select(id="photo-part", name="part")[
                [h.option(value=part.key)[part.words] for part in parts]
            ],
            h.label(for_="photo-file")["From the camera or a file"],
            h.input(id="photo-file", name="photo", type="file", required=True, multiple=True,
                    accept="image/jpeg,image/png,image/webp"),
            h.button["Add"],
            h.span(class_="note")[f"JPEG, PNG or WebP, at most {LARGEST_PHOTO // 10**6} MB each"],
        ],
        h.ul(class_="photos")[
            [
                h.li[
                    h.a(href=f"/jobs/{job}/photos/{photo.id}")[
                        h.img(
                            src=f"/jobs/{job}/photos/{photo.id}",
                            alt=f"{words.get(photo.part, photo.part)}, photo {number}",
                            loading="lazy",
                        )
                    ],
                    h.span[words.get(photo.part, photo.part)],
                    h.span(class_="note")[moment(photo.made)],
                    h.form(method="post", action=f"/jobs/{job}/photos/{photo.id}/remove")[
                        h.button(class_="quiet", aria_label=f"Take out photo {number}")["Take out"]
                    ],
                ]
                for number, photo in enumerate(pictures, start=1)
            ]
        ],
    ]  # fmt: skip
