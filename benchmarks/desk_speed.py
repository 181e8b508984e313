"""From a change at the desk to its picture on the screen, and what 500 changes leave in memory.

Run: ``python benchmarks/desk_speed.py [SCENE] [--changes 500]``. It needs Chromium and playwright.
Wanted, median of 20 on 2 cores: a porch 0.3 s, the whole house 1 s, an hour 0.1 s.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.helpers.browser import browser

ROOT = Path(__file__).parents[1]
SIZE = {"width": 1280, "height": 800}
WANTED_S = {"porch": 0.3, "whole house": 1.0, "hour": 0.1}

# Marks the moment at which a picture of the changed house, or of the changed light, is drawn.
WATCH = """(() => {
  const viewer = document.querySelector('#stage').viewer;
  window.timed = (touch) => new Promise((done) => {
    let changed = touch.light;
    const house = viewer.house(touch.name);
    const update = Object.getPrototypeOf(house).update;
    house.update = (given) => { update.call(house, given); changed = true; };
    const began = performance.now();
    const drawn = () => {
      if (!changed) return;
      viewer.removeEventListener('drawn', drawn);
      delete house.update;
      done(performance.now() - began);
    };
    viewer.addEventListener('drawn', drawn);
    const input = document.querySelector(touch.at);
    input.value = touch.value;
    input.dispatchEvent(new Event(touch.light ? 'input' : 'change', { bubbles: true }));
  });
})()"""


def seconds(page: Any, at: str, value: str, name: str, light: bool) -> float:
    """From one event to the first picture that shows it."""
    asked = {"at": at, "value": value, "name": name, "light": light}
    taken_ms = page.evaluate("(touch) => window.timed(touch)", asked)
    page.evaluate("document.querySelector('#stage').viewer.settled()")
    page.wait_for_timeout(120)  # what is said beside the house
    return float(taken_ms) / 1000.0


def field(name: str) -> str:
    """The selector of a field."""
    return f'[data-field="{name}"]'


def resident_mb(pid: int) -> float:
    """What a process holds in memory."""
    for line in Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024.0
    return 0.0


def heap_mb(page: Any) -> float:
    """What the page's own script holds, after its rubbish is gone."""
    client = page.context.new_cdp_session(page)
    client.send("HeapProfiler.collectGarbage")
    return float(client.send("Runtime.getHeapUsage")["usedSize"]) / 2**20


def timed(page: Any, name: str, repeats: int) -> None:
    """Print the medians."""
    page.evaluate(WATCH)
    for what, wanted_s in WANTED_S.items():
        found = []
        for i in range(repeats):
            if what == "hour":
                at, value = "#hour", str(480 + 20 * i)
            elif what == "porch":
                at, value = field("porch.diameter"), f"{14 + i / 8:g} in"
            else:
                at, value = field("house.width"), f"{66 + i / 4:g} ft"
            found.append(seconds(page, at, value, name, what == "hour"))
        found.sort()
        print(
            f"{what:12} median {statistics.median(found):.3f} s, "
            f"{found[0]:.3f} to {found[-1]:.3f} (wanted {wanted_s:g})"
        )


def remembered(page: Any, pid: int, changes: int) -> None:
    """Print what the server and the page hold as changes go on."""
    for i in range(changes + 1):
        if i % 100 == 0:
            print(f"{i:4} changes: server {resident_mb(pid):.0f} MB, page {heap_mb(page):.0f} MB")
        value = f"{14 + (i % 48) / 8:g} in"
        page.evaluate(
            """([at, value]) => { const input = document.querySelector(at);
            input.value = value; input.dispatchEvent(new Event('change', { bubbles: true })); }""",
            [field("porch.diameter"), value],
        )
        page.wait_for_timeout(60)
        page.evaluate("document.querySelector('#stage').viewer.settled()")


def main() -> None:
    """Open a copy of a scene at the desk and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("scene", nargs="?", type=Path, default=ROOT / "scenes" / "marsh_road.yaml")
    parser.add_argument("--repeats", type=int, default=20, help="0: only the memory")
    parser.add_argument("--changes", type=int, default=500)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        scene = Path(folder) / options.scene.name
        shutil.copy(options.scene, scene)
        shutil.copytree(options.scene.parent / "drawings", scene.parent / "drawings")
        server = subprocess.Popen(
            [sys.executable, "-m", "massing", "desk", str(scene), "--no-browser"],
            stdout=subprocess.PIPE,
            text=True,
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
        assert server.stdout is not None
        try:
            with browser() as opened:
                page = opened.new_page(viewport=SIZE)
                page.set_default_timeout(120_000)
                page.goto(server.stdout.readline().strip())
                page.wait_for_selector("body[data-ready]")
                page.evaluate("document.querySelector('#stage').viewer.settled()")
                name = page.evaluate("document.querySelector('[name=design]:checked').value")
                seen = f"{SIZE['width']} by {SIZE['height']}"
                print(f"{scene.name}, {name}, {seen}, {options.repeats} each")
                if options.repeats:
                    timed(page, name, options.repeats)
                remembered(page, server.pid, options.changes)
        finally:
            server.terminate()
            server.wait(30)


if __name__ == "__main__":
    main()
