"""A headless Chromium for the tests that need one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def chromium_path() -> str | None:
    """Take the browser that is named in the environment, else one on the path."""
    named = os.environ.get("NOONWATER_CHROMIUM")
    return named or next(filter(None, map(shutil.which, NAMES)), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = chromium_path()
    if path is None:
        pytest.skip("no Chromium at hand: install one or name it in NOONWATER_CHROMIUM")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context()
    page = context.new_page()
    yield page
    context.close()
