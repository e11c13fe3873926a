"""A headless Chromium for the tests that need one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from tests.browser.desks import PHONE, SLOW, WIDE, Desk

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
# What is waited for comes, however busy the machine is; a failing test alone waits so long.
expect.set_options(timeout=SLOW)


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


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk for all tests of a file."""
    desk = Desk(tmp_path_factory.mktemp("desk"))
    desk.start()
    yield desk
    desk.kill()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A laptop's browser."""
    context = browser.new_context(viewport=WIDE)
    context.set_default_timeout(SLOW)
    yield context
    context.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A telephone's browser."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
    context.set_default_timeout(SLOW)
    yield context
    context.close()
