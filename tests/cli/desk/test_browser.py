"""The desk in a real browser: change by field and by hand, compare, undo, save, and be safe."""

from __future__ import annotations

import base64
import io
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

import numpy as np
import pytest
from PIL import Image

from massing.cli.desk.desk import KEPT_ENDING
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from tests.helpers import takeoff
from tests.helpers.browser import AXE, PATIENCE_MS, browser

ROOT = Path(__file__).parents[3]
COTTAGE = ROOT / "scenes" / "vineyard_cottage.yaml"


class Served:
    """A desk in a process of its own, of a scene or of none yet, and where it is."""

    def __init__(self, scene: Path | None, folder: Path | None = None) -> None:
        self.scene = scene
        self.folder = folder or scene.parent
        self.start()

    def start(self) -> None:
        named = [] if self.scene is None else [str(self.scene)]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "massing", "desk", *named, "--no-browser"],
            stdout=subprocess.PIPE,
            text=True,
            cwd=self.folder,
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


@pytest.fixture
def bare(tmp_path) -> Iterator[Served]:
    desk = Served(None, tmp_path)
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
PINNED = f"""[...{VIEWER}.house('as drawn')._parts.values()].flatMap(({{meshes}}) => meshes)
    .flatMap((m) => [...Object.values(m.geometry.attributes), m.geometry.index, m.instanceMatrix])
    .filter((a) => a && a.array.buffer.byteLength !== a.array.byteLength).length"""
KEYS = f"{VIEWER}.house('as drawn').keys().length"


def settled(page: Any) -> None:
    page.evaluate("document.querySelector('#stage').viewer.settled()")


def field(page: Any, name: str) -> Any:
    return page.locator(f'[data-field="{name}"]')


def faults_of(page: Any) -> list[Any]:
    """What axe finds: rules of WCAG 2.2, levels A and AA."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate(
        "axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']})"
    )
    return [(v["id"], [n["target"] for n in v["nodes"]][:3]) for v in found["violations"]]


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
    assert page.evaluate(PINNED) == 0, "no mesh keeps the parcel that it came in"

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
    settled(page)
    foot = page.locator('#handles g[aria-label="entablature\'s foot"]').first
    grip = one('#handles g[aria-label="entablature\'s foot"] circle') + ".getBoundingClientRect()"
    x, y = page.evaluate(f"(({{x, y, width, height}}) => [x + width / 2, y + height / 2])({grip})")
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

    foot.focus()
    page.keyboard.type("310 mm")
    assert page.inner_text("#typing label") == "entablature's foot"
    page.keyboard.press("Enter")
    until(page, "document.querySelector('[data-field=\"porch.entablature\"]').value === '310 mm'")
    until(page, "document.activeElement.dataset.line?.startsWith('porch.entablature')")
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
    assert faults_of(page) == []
    for panel in ("pictures", "better"):
        page.click(f"#to-{panel}")
        until(page, f"!{one('#' + panel)}.hidden")
    page.locator("#handles g").first.focus()
    page.keyboard.press("Enter")
    until(page, f"!{one('#typing')}.hidden")
    assert faults_of(page) == []
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 1280
    page.close()


# What a hand without a mouse has to come to, and where it stands; of radios one to a group.
STOPS = """(() => {
  const named = (e) => e.id || e.dataset.field || e.dataset.line || e.name ||
    e.getAttribute('aria-label') || e.textContent;
  window.stop = () => named(document.activeElement);
  const kinds = 'a[href], button, input, select, summary, [tabindex="0"]';
  const there = [...document.querySelectorAll(kinds)].filter((e) => !e.disabled);
  return there.filter((e) => e.checkVisibility() && (e.type !== 'radio' || e.checked)).map(named);
})()"""


def test_the_desk_by_the_keyboard_alone(chrome, served):
    page = opened(chrome, served, [])
    page.click("#to-pictures")
    page.evaluate("document.activeElement.blur()")
    wanted = page.evaluate(STOPS)
    assert len(wanted) > 60
    seen: list[str] = []
    while len(seen) < len(wanted) + 5:
        page.keyboard.press("Tab")
        seen.append(page.evaluate("window.stop()"))
    assert set(wanted) <= set(seen)
    ringed = "getComputedStyle(document.activeElement).outlineStyle !== 'none'"
    while page.evaluate("window.stop()") != "field porch.diameter":
        page.keyboard.press("Shift+Tab")
    assert page.evaluate(ringed), "where one is can be seen"
    page.keyboard.press("Control+a")
    page.keyboard.type("400 mm")
    page.keyboard.press("Enter")
    until(page, "document.querySelector('#figures').textContent.includes('1:6')")
    page.keyboard.press("Control+s")
    until(page, f"{one('#file')}.textContent.includes('saved') && {one('#save')}.disabled")
    assert "diameter: 400 mm" in served.scene.read_text(encoding="utf-8")
    page.close()


def test_a_file_changed_beneath_is_taken_up_or_written_over(chrome, served):
    page = opened(chrome, served, [])
    written = served.scene.read_text(encoding="utf-8")
    assert "  depth: 1.9 m" in written
    served.scene.write_text(written.replace("  depth: 1.9 m", "  depth: 2.1 m"), encoding="utf-8")
    until(page, f"!{one('#take-disk')}.hidden && {one('#save')}.disabled")
    page.click("#take-disk")
    until(page, "document.querySelector('[data-field=\"porch.depth\"]').value === '2.1 m'")
    until(page, f"{one('#take-disk')}.hidden && {one('#file')}.textContent.includes('saved')")

    field(page, "porch.diameter").fill("400 mm")
    field(page, "porch.diameter").press("Tab")
    until(page, f"!{one('#save')}.disabled")
    served.scene.write_text(written + "# by another hand\n", encoding="utf-8")
    until(page, f"!{one('#write-over')}.hidden && {one('#save')}.disabled")
    page.keyboard.press("Control+s")
    page.wait_for_timeout(300)
    assert "by another hand" in served.scene.read_text(encoding="utf-8"), "not by mistake"
    page.click("#write-over")
    until(page, f"{one('#write-over')}.hidden && {one('#save')}.disabled")
    ours = served.scene.read_text(encoding="utf-8")
    assert "diameter: 400 mm" in ours
    assert "depth: 2.1 m" in ours
    assert "by another hand" not in ours
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


# --- sizes off the builder's drawing -------------------------------------------------------------

CLICK_S, TYPED_S, BUTTON_S = 5.0, 8.0, 3.0  # of a hand that looks closely: our own estimate


class Hand:
    """Clicks on the board, and how many there were."""

    def __init__(self, page: Any) -> None:
        self.page, self.seconds, self.clicks = page, 0.0, 0

    def steps(self) -> int:
        return int(self.page.get_attribute("#board", "data-steps"))

    def answered(self, before: int) -> None:
        until(self.page, f"+document.querySelector('#board').dataset.steps > {before}")
        assert self.page.inner_text("#board-fault") == ""

    def point(self, x: float, y: float, answers: bool = True) -> None:
        left, top, k = self.page.evaluate(
            """(() => { const paper = document.querySelector('#paper').getBoundingClientRect();
            const wide = document.querySelector('#sheet-image').width;
            return [paper.left, paper.top, paper.width / wide]})()"""
        )
        before = self.steps()
        self.page.mouse.move(left + k * x, top + k * y)
        self.page.mouse.down()
        self.page.mouse.up()
        self.clicks += 1
        self.seconds += CLICK_S
        if answers:
            self.answered(before)

    def press(self, selector: str) -> None:
        before = self.steps()
        self.page.click(selector)
        self.clicks += 1
        self.seconds += BUTTON_S
        self.answered(before)


def test_from_nothing_to_the_builders_house_by_recorded_clicks(chrome, bare):
    """Eight questions, the drawing, its sizes: a valid design as drawn, each size within 1 %."""
    page = chrome.new_page(viewport={"width": 1280, "height": 800})
    page.set_default_timeout(PATIENCE_MS)
    page.goto(bare.address)
    page.wait_for_selector("body[data-ready]")
    assert faults_of(page) == []
    page.fill("#title", "By the ferry")
    page.fill("#width", "5 ft")
    page.click("#write")
    until(page, f"{one('#fault')}.textContent.startsWith('width: given 5 ft, allowed: ')")
    page.fill("#width", "50 ft")
    page.fill("#depth", "38 ft")
    page.fill("#place", "Savannah, Georgia")
    page.click("#write")
    page.wait_for_selector("#to-board")
    page.wait_for_selector("body[data-ready]")
    bare.scene = bare.folder / "by-the-ferry.yaml"
    assert "place: 'Savannah, Georgia'" in bare.scene.read_text(encoding="utf-8")

    page.click("#to-board")
    page.set_input_files("#board-file", str(takeoff.DRAWING))
    page.wait_for_selector(".board[data-laid]")
    until(page, f"{one('#sheet-image')}.complete")
    hand = Hand(page)
    for end in takeoff.KNOWN:
        hand.point(*end, answers=False)
    before = hand.steps()
    page.fill("#board-length", takeoff.KNOWN_LENGTH)
    page.keyboard.press("Enter")
    hand.answered(before)
    hand.seconds += TYPED_S
    for number, (_, click) in enumerate(takeoff.CLICKS):
        if click == takeoff.ON:
            hand.press("#board-on")
        else:
            hand.point(*click)
        if number == 8:  # killed in the middle, and started again
            bare.stop(signal.SIGKILL)
            bare.start()
            page.goto(bare.address)
            page.wait_for_selector("body[data-ready]")
            page.click("#to-board")
            page.wait_for_selector(".board[data-laid]")
            until(page, f"{one('#sheet-image')}.complete")
            assert page.inner_text("#board-asks") == "Its right edge"
    assert page.inner_text("#board-asks").startswith("Every size is taken.")
    until(page, f"{one('#model')}.getAttribute('d').length > 1000")
    assert '" low' in page.inner_text("#board-list"), "how far the model is off, in inches"
    assert faults_of(page) == []
    assert hand.clicks == 24
    assert hand.seconds < 180.0, "under 3 minutes at a hand's pace"

    page.click("#to-board")
    until(page, f"{one('#board')}.hidden")
    page.keyboard.press("Control+s")
    until(page, f"{one('#save')}.disabled")
    loaded = load_scene(bare.scene)
    for name, spec in loaded.designs.items():
        design = resolve(spec, name, loaded.lines[name])
        if name == loaded.scene.as_drawn:
            takeoff.is_as_drawn(design)
    kept = bare.folder / loaded.scene.drawing.image
    assert kept.exists()
    page.close()


def test_the_board_by_the_keyboard_alone(chrome, served):
    page = opened(chrome, served, [])
    page.locator("#to-board").focus()
    page.keyboard.press("Enter")
    page.set_input_files("#board-file", str(takeoff.DRAWING))
    page.wait_for_selector(".board[data-laid]")
    until(page, "document.activeElement.id === 'sheet'")
    for _ in range(3):
        page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    page.keyboard.press("+")
    for _ in range(9):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Enter")
    until(page, "document.activeElement.id === 'board-length'")
    page.keyboard.type("no length")
    page.keyboard.press("Enter")
    until(page, f"{one('#board-fault')}.textContent.includes('allowed')")
    page.keyboard.press("Control+a")
    page.keyboard.type("3 m")
    page.keyboard.press("Enter")
    until(page, f"{one('#board-asks')}.textContent === 'The line of the ground'")
    page.locator("#sheet").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    until(page, f"{one('#board-asks')}.textContent === 'The line of the lowest floor'")
    page.keyboard.press("Backspace")
    until(page, f"{one('#board-asks')}.textContent === 'The line of the ground'")
    page.close()


# --- looks and hands -----------------------------------------------------------------------------


def picture_of(page: Any) -> np.ndarray:
    settled(page)
    data = page.evaluate(f"{VIEWER}.canvas.toDataURL()").partition(",")[2]
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB"), dtype=float)


def test_ink_is_lines_and_a_wash_that_follows_the_sun(chrome, served):
    said: list[str] = []
    page = opened(chrome, served, said)
    clay = picture_of(page)
    page.check("input[value=ink]", force=True)
    ink = picture_of(page)
    light = ink.mean(axis=2)
    assert (light > 240).mean() > 0.5, "paper"
    assert 0.004 < (light < 70).mean() < 0.12, "lines"
    assert (light > 240).mean() > (clay.mean(axis=2) > 240).mean()
    wash = ((light > 150) & (light < 235)).mean()
    page.evaluate(f"{one('#hour')}.value = 1110; {one('#hour')}.dispatchEvent(new Event('input'))")
    page.wait_for_timeout(300)
    later = picture_of(page).mean(axis=2)
    assert abs(((later > 150) & (later < 235)).mean() - wash) > 0.01, "another shadow"
    assert said == []
    page.close()


def test_a_turn_of_the_hand_is_the_free_view_and_stays(chrome, served):
    page = opened(chrome, served, [])
    assert page.locator("#handles g").count() > 5
    box = page.locator("#stage").bounding_box()
    page.mouse.move(box["x"] + 60, box["y"] + box["height"] - 30)
    page.mouse.down()
    page.mouse.move(box["x"] + 160, box["y"] + box["height"] - 60, steps=4)
    page.mouse.up()
    until(page, "document.querySelector('input[name=view]:checked').value === 'free'")
    until(page, "document.querySelectorAll('#handles g').length === 0")
    settled(page)
    stood = page.evaluate(f"{VIEWER}.pose().position")
    page.check("input[value=elevation]", force=True)
    until(page, "document.querySelectorAll('#handles g').length > 5")
    page.check("input[value=free]", force=True)
    settled(page)
    assert page.evaluate(f"{VIEWER}.pose().position") == pytest.approx(stood, abs=1e-6)
    page.close()


def test_grips_lie_apart_and_figures_stand_beside_each_design(chrome, served):
    page = opened(chrome, served, [])
    apart = page.evaluate(
        """(() => { const at = [...document.querySelectorAll('#handles circle')].map(
        (c) => [+c.getAttribute('cx'), +c.getAttribute('cy')]);
        const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
        return Math.min(...at.flatMap((a, i) => at.slice(i + 1).map((b) => apart(a, b))))})()"""
    )
    assert apart >= 16.0
    page.check("input[name=panes][value='4']", force=True)
    until(page, "document.querySelectorAll('#panes li').length > 2")
    until(
        page,
        "[...document.querySelectorAll('#panes li')].every("
        "(li) => /corona/.test(li.textContent) && /cornice/.test(li.textContent))",
    )
    names = page.locator("#designs span").all_inner_texts()
    page.locator("#designs input").nth(1).check(force=True)
    until(page, f"!{one('#down')}.disabled")
    page.click("#down")
    until(
        page,
        f"document.querySelectorAll('#designs span')[2].textContent === {json.dumps(names[1])}",
    )
    page.close()


def test_a_drawing_changed_on_disk_is_read_again(chrome, tmp_path):
    shutil.copy(ROOT / "scenes" / "marsh_road.yaml", tmp_path)
    (tmp_path / "drawings").mkdir()
    drawing = tmp_path / "drawings" / takeoff.DRAWING.name
    shutil.copy(takeoff.DRAWING, drawing)
    desk = Served(tmp_path / "marsh_road.yaml")
    try:
        page = opened(chrome, desk, [])
        asked: list[str] = []
        page.on("request", lambda r: asked.append(r.url) if "drawing.png" in r.url else None)
        page.evaluate(
            f"{one('#drawing')}.value = 40; {one('#drawing')}.dispatchEvent(new Event('input'))"
        )
        page.wait_for_timeout(600)
        before = set(asked)
        assert len(before) == 1
        Image.open(drawing).convert("L").point(lambda v: 255 - v).save(drawing)
        end = time.monotonic() + PATIENCE_MS / 1000.0
        while set(asked) == before:
            assert time.monotonic() < end
            page.wait_for_timeout(100)
        page.close()
    finally:
        desk.stop(signal.SIGKILL)


def test_pictures_appear_as_they_are_made(chrome, served):
    pytest.importorskip("bpy")
    text = served.scene.read_text(encoding="utf-8")
    served.stop()
    bare = re.sub(r"(?m)^(times|views|looks):.*(\n[ -].*)*\n", "", text)
    only = "times: [equinox 10:00]\nviews: [elevation]\nlooks: [clay]\n"
    served.scene.write_text(f"{bare}\n{only}", encoding="utf-8")
    served.start()
    page = opened(chrome, served, [])
    page.click("#to-pictures")
    page.select_option("#making-size", "small")
    page.select_option("#making-what", "shown")
    page.click("#make")
    until(
        page, f"{one('#progress')}.hidden === false || {one('#progress-words')}.textContent !== ''"
    )
    until(page, "[...document.querySelectorAll('#made img')].some((i) => i.naturalWidth > 150)")
    page.close()
