"""The desk in a real browser: change by field and by hand, compare, undo, save, and be safe."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from massing.cli.desk.desk import KEPT_ENDING
from tests.helpers.browser import AXE, PATIENCE_MS, browser

ROOT = Path(__file__).parents[3]
COTTAGE = ROOT / "scenes" / "vineyard_cottage.yaml"


class Served:
    """A desk in a process of its own, and where it is."""

    def __init__(self, scene: Path) -> None:
        self.scene = scene
        self.start()

    def start(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "massing", "desk", str(self.scene), "--no-browser"],
            stdout=subprocess.PIPE,
            text=True,
            cwd=self.scene.parent,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
        assert self.process.stdout is not None
        self.address = self.process.stdout.readline().strip()

    def stop(self, how: int = signal.SIGINT) -> int:
        self.process.send_signal(how)
        return self.process.wait(30)


@pytest.fixture
def served(tmp_path) -> Iterator[Served]:
    scene = tmp_path / "cottage.yaml"
    shutil.copy(COTTAGE, scene)
    desk = Served(scene)
    yield desk
    if desk.process.poll() is None:
        desk.stop(signal.SIGKILL)


@pytest.fixture(scope="module")
def chrome() -> Iterator[Any]:
    with browser() as opened:
        yield opened


def opened(chrome: Any, served: Served, said: list[str]) -> Any:
    page = chrome.new_page(viewport={"width": 1280, "height": 800})
    page.set_default_timeout(PATIENCE_MS)
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on(
        "request",
        lambda r: (
            said.append(r.url) if not r.url.startswith((served.address, "blob:", "data:")) else None
        ),
    )
    page.goto(served.address)
    page.wait_for_selector("body[data-ready]")
    return page


def until(page: Any, holds: str) -> None:
    """Wait until an expression holds; the page's own policy lets no one hand it such words."""
    end = time.monotonic() + PATIENCE_MS / 1000.0
    while not page.evaluate(holds):
        assert time.monotonic() < end, holds
        page.wait_for_timeout(40)


def one(selector: str) -> str:
    return f"document.querySelector({json.dumps(selector)})"


VIEWER = one("#stage") + ".viewer"
IN_SUN = f"""{VIEWER}.sunMask(
    {{left: -7, right: 7, bottom: 0, top: 5, width: 140, height: 50}}, 'as drawn'
).reduce((count, value) => count + (value === 2), 0)"""
KEYS = f"{VIEWER}.house('as drawn').keys().length"


def settled(page: Any) -> None:
    page.evaluate("document.querySelector('#stage').viewer.settled()")


def field(page: Any, name: str) -> Any:
    return page.locator(f'[data-field="{name}"]')


def test_a_house_is_changed_seen_and_saved(chrome, served):
    said: list[str] = []
    page = opened(chrome, served, said)
    settled(page)
    sunny = page.evaluate(IN_SUN)
    assert sunny > 200, "the front is drawn, in sun"

    field(page, "porch.diameter").fill("400 mm")
    field(page, "porch.diameter").press("Tab")
    until(page, "document.querySelector('#figures').textContent.includes('1:6')")
    assert "diameter: 400 mm" not in served.scene.read_text(encoding="utf-8")
    settled(page)
    assert page.evaluate(IN_SUN) != sunny, "thicker columns throw more shade"

    page.click("#undo")
    until(page, "document.querySelector('#undo').disabled")
    page.click("#redo")
    until(page, "!document.querySelector('#undo').disabled")
    page.keyboard.press("Control+s")
    until(page, f"{one('#file')}.textContent.includes('saved') && {one('#save')}.disabled")
    text = served.scene.read_text(encoding="utf-8")
    assert "diameter: 400 mm" in text
    assert "the sun stands in the north" in text
    assert said == []
    page.close()


def test_a_line_is_dragged_and_moved_by_keys(chrome, served):
    said: list[str] = []
    page = opened(chrome, served, said)
    foot = page.locator('#handles g[aria-label="entablature\'s foot"]').first
    box = foot.locator("circle").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 6)
    until(page, "document.querySelector('#size').textContent.includes('mm')")
    page.mouse.up()
    until(page, "!document.querySelector('#undo').disabled")
    until(page, "document.querySelector('[data-field=\"porch.entablature\"]').value !== '200 mm'")
    deeper = int(field(page, "porch.entablature").input_value().removesuffix(" mm"))
    assert 220 <= deeper <= 400
    assert deeper % 5 == 0, "in the builder's fraction"

    page.click("#to-pictures")  # takes room from the house; the lines stay on it
    page.wait_for_timeout(1000)
    settled(page)
    mark = one("#handles g[aria-label^=entablature] line") + ".getBoundingClientRect().top"
    foot_z = page.evaluate(f"{VIEWER}.unproject(640, {mark}, -2)[2]")
    assert 2.6 < foot_z < 3.1, "the porch is 2.7 m high over a floor of 0.43 m"
    page.click("#to-pictures")
    page.wait_for_timeout(500)

    foot.focus()
    page.keyboard.press("ArrowUp")
    until(
        page,
        f"document.querySelector('[data-field=\"porch.entablature\"]').value !== '{deeper} mm'",
    )
    assert int(field(page, "porch.entablature").input_value().removesuffix(" mm")) < deeper
    assert said == []
    page.close()


def test_a_fault_is_one_line_and_the_house_stands(chrome, served):
    said: list[str] = []
    page = opened(chrome, served, said)
    keys = page.evaluate(KEYS)
    field(page, "porch.columns").fill("99")
    field(page, "porch.columns").press("Tab")
    until(page, f"{one('#fault')}.textContent.startsWith('porch.columns: given 99, allowed:')")
    assert page.evaluate(KEYS) == keys
    until(page, one('[data-field="porch.columns"]') + ".closest('.at-fault') !== null")
    page.click("#undo")
    until(page, "document.querySelector('#fault').textContent === ''")
    page.close()


def test_two_pages_agree_and_a_killed_desk_loses_nothing(chrome, served):
    one, two = (opened(chrome, served, []) for _ in range(2))
    field(one, "porch.diameter").fill("300 mm")
    field(one, "porch.diameter").press("Tab")
    until(two, "document.querySelector('[data-field=\"porch.diameter\"]').value === '300 mm'")
    served.stop(signal.SIGKILL)
    assert served.scene.with_name(served.scene.name + KEPT_ENDING).exists()
    served.start()
    again = opened(chrome, served, [])
    assert field(again, "porch.diameter").input_value() == "300 mm"
    assert "taken up again" in again.inner_text("#file")
    for page in (one, two, again):
        page.close()
    assert served.stop() in (0, 130, -signal.SIGINT)


def test_side_by_side_by_the_keyboard_and_no_barrier(chrome, served):
    said: list[str] = []
    page = opened(chrome, served, said)
    page.locator("input[name=panes][value='1']").focus()
    page.keyboard.press("ArrowRight")
    until(page, "document.querySelectorAll('#panes li').length === 2")
    assert re.search(r"1:\d", page.inner_text("#panes"))
    page.evaluate(AXE.read_text(encoding="utf-8"))
    faults = page.evaluate(
        "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']})"
    )
    assert [(v["id"], [n["target"] for n in v["nodes"]][:3]) for v in faults["violations"]] == []
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 1280
    page.close()


def test_better_porches_are_looked_for_and_one_is_taken(chrome, served):
    limits = (
        "propose: {orders: [tuscan], columns: [2], roofs: [flat], keep: [windows], "
        "without: [pedestals, balustrade, side columns]}"
    )
    text = served.scene.read_text(encoding="utf-8")
    served.stop()
    served.scene.write_text(f"{text}\n{limits}\n", encoding="utf-8")
    served.start()
    said: list[str] = []
    page = opened(chrome, served, said)
    page.click("#to-better")
    page.click("#look")
    until(page, "document.querySelectorAll('#proposals li').length > 0")
    until(page, "[...document.querySelectorAll('#proposals img')].every((i) => i.naturalWidth > 0)")
    assert "For comparing designs" in page.inner_text("#better-caution")
    name = page.inner_text("#proposals h3").split(maxsplit=1)[1]
    before = page.locator("#designs li").count()
    page.click("#proposals button")
    until(page, f"document.querySelectorAll('#designs li').length === {before + 1}")
    assert name in page.inner_text("#designs")
    page.keyboard.press("Control+s")
    until(page, f"{one('#save')}.disabled")
    assert "# Proposed: " in served.scene.read_text(encoding="utf-8")
    assert said == []
    page.close()
