"""Bring the papers' catalogues up to date with the texts in the code.

    python tools/gather_texts.py

Texts that are new come in untranslated, texts that went are dropped, translations stay.
"""

from __future__ import annotations

import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

ROOM = Path(__file__).resolve().parent.parent / "src" / "noonwater"
FOLDER = ROOM / "document" / "locale"
SPEAKING = {"say": None, "mark": None}
"""Functions whose first argument is a text for the catalogues."""


def texts() -> dict[str, set[str]]:
    """Give every text in the code by the module that says it; one text stands once."""
    found: dict[str, set[str]] = {}
    said: set[str] = set()
    for path in sorted((ROOM / "document").glob("*.py")):
        with path.open("rb") as file:
            here = {str(entry[1]) for entry in extract("python", file, keywords=SPEAKING)}
        if here - said:
            found[path.stem] = here - said
        said |= here
    return found


def gathered(path: Path, wanted: set[str], known: dict[str, str]) -> Catalog:
    """Make one catalogue anew, with the translations that there are."""
    code = path.parent.name
    new = Catalog(locale=code, project="Noonwater", charset="utf-8")
    for text in sorted(wanted):
        new.add(text, string=known.get(text, ""))
    return new


def translations(folder: Path) -> dict[str, str]:
    """Give all that is translated into a language."""
    known: dict[str, str] = {}
    for path in sorted(folder.glob("*.po")):
        with path.open("rb") as file:
            catalogue = read_po(file, locale=folder.name)
        known.update({str(each.id): str(each.string) for each in catalogue if each.id})
    return known


def main() -> int:
    """Write every catalogue; says how many texts are untranslated."""
    wanted = texts()
    for folder in sorted(path for path in FOLDER.iterdir() if path.is_dir()):
        known = translations(folder)
        for path in folder.glob("*.po"):
            if path.stem not in wanted:
                path.unlink()
        for name, said in wanted.items():
            path = folder / f"{name}.po"
            with path.open("wb") as file:
                write_po(file, gathered(path, said, known), omit_header=True, width=100)
        everything = set().union(*wanted.values())
        missing = sorted(text for text in everything if not known.get(text))
        print(f"{folder.name}: {len(everything)} texts, {len(missing)} untranslated")
        for text in missing:
            print(f"  {text}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
