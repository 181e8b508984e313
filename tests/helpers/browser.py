"""Debian's Chromium, driven by Playwright; tests skip where there is none."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

AXE = Path(__file__).parent / "axe/axe.min.js"
SOFTWARE = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
PATIENCE_MS = 120_000  # a busy machine without a graphics card


def chromium() -> str:
    """Where the browser stands; skips the test where it does not."""
    for name in ("chromium", "chromium-browser"):
        if found := shutil.which(name):
            return found
    pytest.skip("no chromium: apt-get install chromium")


@contextmanager
def browser() -> Iterator[Any]:
    """A browser that draws without a graphics card."""
    api = pytest.importorskip("playwright.sync_api")
    with api.sync_playwright() as playwright:
        opened = playwright.chromium.launch(
            executable_path=chromium(),
            args=["--no-sandbox", "--ignore-gpu-blocklist", *SOFTWARE],
        )
        yield opened
        opened.close()
