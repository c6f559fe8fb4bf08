"""A real browser without a window, for tests of pages; what it measures of a page."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

import pytest

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
MM = 96.0 / 25.4  # CSS pixels in a millimetre

MEASURES = (Path(__file__).parent / "measures.js").read_text(encoding="utf-8")


class Opened(NamedTuple):
    """A page in the browser, what it asked for, and what it complained about."""

    page: Any
    asked: list[str]
    said: list[str]

    def measured(self, what: str) -> Any:
        """Return what a function of `measures.js` finds."""
        self.page.evaluate(MEASURES)
        return self.page.evaluate(f"measures.{what}()")


class Browser:
    """One browser for many pages."""

    def __init__(self, launched: Any) -> None:
        self._launched = launched

    @contextmanager
    def open(self, address: str, width: int = 1000, scheme: str = "light", media: str = "screen") -> Iterator[Opened]:
        """Open a page from a file at a width, in a light or dark scheme, as on a screen or on paper."""
        context = self._launched.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
        page = context.new_page()
        page.emulate_media(media=media, color_scheme=scheme)
        asked: list[str] = []
        said: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(address)
        yield Opened(page, asked, said)
        context.close()


@contextmanager
def launched() -> Iterator[Browser]:
    """Start the distribution's browser once; skip where there is none."""
    path = next((p for n in ("chromium", "chromium-browser", "google-chrome") if (p := shutil.which(n))), None)
    if path is None:
        pytest.skip("there is no Chromium on this machine, so pages cannot be looked at in a browser")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield Browser(browser)
        browser.close()
