"""Who hands the papers over: the contractor's profile file.

    name = "…"            # of the firm
    lines = ["…", "…"]    # address, telephone: up to four lines
    licence = "…"
    logo = "logo.png"     # PNG, JPEG or SVG beside the profile
    terms = "…"           # printed on the proposal as typed
    tax = "7 %"           # added to prices
    locale = "en_US"      # numbers and dates; by language: locale.es = "es_MX"

Every line may be left out.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from noonwater.core.errors import Fault, InputError
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import read_quantity
from noonwater.document.language import LOCALES

LARGEST_LOGO = 4_000_000
"""[bytes]"""
MOST_LINES = 4
LogoFormat = Literal["png", "jpg", "svg"]
_SIGNS: dict[bytes, LogoFormat] = {b"\x89PNG\r\n": "png", b"\xff\xd8\xff": "jpg"}
_FIELDS = ("name", "lines", "licence", "logo", "terms", "tax", "locale")
_TAX = Quantity("share", "sales tax", 0.0, 0.5)


@dataclass(frozen=True)
class Profile:
    """The contractor.

    Attributes
    ----------
    name : str
        Of the firm.
    lines : tuple of str
        Address, telephone.
    licence : str
        Number of the licence.
    logo : bytes
        Picture, empty where there is none.
    logo_format : {"png", "jpg", "svg"}
        Of the picture.
    terms : str
        Printed on the proposal as typed.
    tax : float
        Added to prices. [-]
    locales : dict of str to str
        Of numbers and dates, by language.
    """

    name: str = ""
    lines: tuple[str, ...] = ()
    licence: str = ""
    logo: bytes = b""
    logo_format: LogoFormat = "png"
    terms: str = ""
    tax: float = 0.0
    locales: dict[str, str] = field(default_factory=dict)


def read_profile(path: Path) -> Profile:
    """Read a profile file.

    Parameters
    ----------
    path : Path
        A TOML file; its logo is looked for beside it.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        fault = Fault("profile", str(error), "a profile file in TOML", "see the README")
        raise InputError([fault], str(path)) from None
    faults = [
        Fault(name, "not known", ", ".join(_FIELDS), "leave it out")
        for name in tables
        if name not in _FIELDS
    ]
    faults += _text_faults(tables)
    logo, kind, logo_faults = _logo(tables.get("logo", ""), path.parent)
    tax, tax_faults = _tax(tables.get("tax", "0 %"))
    faults += logo_faults + tax_faults
    if faults:
        raise InputError(faults, str(path))
    return Profile(
        name=tables.get("name", ""),
        lines=tuple(tables.get("lines", ())),
        licence=tables.get("licence", ""),
        logo=logo,
        logo_format=kind,
        terms=tables.get("terms", ""),
        tax=tax,
        locales=_locales(tables.get("locale", {})),
    )


def _text_faults(tables: dict[str, Any]) -> list[Fault]:
    faults = [
        Fault(name, f"{tables[name]!r}", "text", "put it in quotation marks")
        for name in ("name", "licence", "logo", "terms")
        if not isinstance(tables.get(name, ""), str)
    ]
    lines = tables.get("lines", [])
    texts = isinstance(lines, list) and all(isinstance(line, str) for line in lines)
    if not texts or len(lines) > MOST_LINES:
        allowed = f"a list of at most {MOST_LINES} texts"
        faults.append(Fault("lines", f"{lines!r}", allowed, "shorten it"))
    locale = tables.get("locale", {})
    by_language = isinstance(locale, dict) and all(
        key in LOCALES and isinstance(value, str) for key, value in locale.items()
    )
    if not isinstance(locale, str) and not by_language:
        allowed = f"a locale, or one each for {', '.join(LOCALES)}"
        faults.append(Fault("locale", f"{locale!r}", allowed, 'such as locale.es = "es_MX"'))
    return faults


def _locales(told: str | dict[str, str]) -> dict[str, str]:
    if isinstance(told, str):
        return {told.partition("_")[0]: told}
    return dict(told)


def _tax(text: Any) -> tuple[float, list[Fault]]:
    try:
        return read_quantity(text, _TAX), []
    except QuantityError as error:
        return 0.0, [Fault("tax", error.given, error.allowed, error.remedy)]


def _logo(name: Any, folder: Path) -> tuple[bytes, LogoFormat, list[Fault]]:
    if not name or not isinstance(name, str):
        return b"", "png", []
    allowed = f"a PNG, JPEG or SVG file of at most {LARGEST_LOGO // 1_000_000} MB"
    try:
        picture = (folder / name).read_bytes()
    except OSError as error:
        return b"", "png", [Fault("logo", f"{name}: {error.strerror}", allowed, "check the path")]
    kind = next((kind for sign, kind in _SIGNS.items() if picture.startswith(sign)), None)
    if kind is None and b"<svg" in picture[:2000]:
        kind = "svg"
    if kind is None or len(picture) > LARGEST_LOGO:
        return b"", "png", [Fault("logo", name, allowed, "save it as one of these")]
    return picture, kind, []
