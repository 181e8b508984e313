"""From a change at the desk to its picture on the screen, and what 500 changes leave in memory.

Run: ``python benchmarks/desk_speed.py [SCENE] [--changes 500]``. It needs Chromium and playwright.
Wanted, median of 20 on 2 cores: a porch 0.3 s, the whole house 1 s, an hour 0.1 s. The first
picture after a change may be drawn in haste; when the finest stands is printed beside it. The
changes go over porch, house, hour, undo and panes; of the page are counted its script's heap, its
nodes and listeners after rubbish is gone, what the viewer holds on the card, and its processes;
the page's process grows here by what the one who drives it keeps of each answer, and not without.
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
      const first = performance.now() - began;
      viewer.settled().then(() => done([first, performance.now() - began]));
    };
    viewer.addEventListener('drawn', drawn);
    const input = document.querySelector(touch.at);
    input.value = touch.value;
    input.dispatchEvent(new Event(touch.light ? 'input' : 'change', { bubbles: true }));
  });
})()"""


# One change, and its finest picture.
DEED = """async ([at, value, kind]) => {
  const input = document.querySelector(at);
  const viewer = document.querySelector('#stage').viewer;
  const drawn = new Promise((done) => viewer.addEventListener('drawn', done, { once: true }));
  if (kind === 'click') input.click();
  else {
    input.value = value;
    input.dispatchEvent(new Event(kind, { bubbles: true }));
  }
  await Promise.race([drawn, new Promise((done) => setTimeout(done, 1500))]);
  await viewer.settled();
}"""


def seconds(page: Any, at: str, value: str, name: str, light: bool) -> tuple[float, float]:
    """From one event to the first picture that shows it, and to the finest."""
    asked = {"at": at, "value": value, "name": name, "light": light}
    first_ms, finest_ms = page.evaluate("(touch) => window.timed(touch)", asked)
    page.wait_for_timeout(700)  # what is said beside the house, and what is made ready at rest
    page.evaluate("document.querySelector('#stage').viewer.settled()")
    return float(first_ms) / 1000.0, float(finest_ms) / 1000.0


def field(name: str) -> str:
    """The selector of a field."""
    return f'[data-field="{name}"]'


def resident_mb(pid: int) -> float:
    """What a process holds in memory."""
    for line in Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024.0
    return 0.0


def held(page: Any, clients: tuple[Any, Any], server: int) -> str:
    """What the desk holds once the page's rubbish is gone, in one line."""
    client, whole = clients
    for _ in range(2):
        client.send("HeapProfiler.collectGarbage")
    usage = client.send("Runtime.getHeapUsage")
    heap, arrays = (usage[key] / 2**20 for key in ("usedSize", "backingStorageSize"))
    count = client.send("Memory.getDOMCounters")
    card = page.evaluate(
        """(() => { const { geometries, textures } = document.querySelector('#stage').viewer.held();
        return [geometries, textures]; })()"""
    )
    kinds: dict[str, float] = {}
    for each in whole.send("SystemInfo.getProcessInfo")["processInfo"]:
        if each["type"] in ("renderer", "GPU"):
            kinds[each["type"]] = max(kinds.get(each["type"], 0.0), resident_mb(each["id"]))
    return (
        f"server {resident_mb(server):.0f} MB, script {heap:.1f} MB and {arrays:.1f} of arrays, "
        f"nodes {count['nodes']}, listeners {count['jsEventListeners']}, "
        f"on the card {card[0]} shapes and {card[1]} maps, "
        f"page's process {kinds['renderer']:.0f} MB, drawing's {kinds['GPU']:.0f} MB"
    )


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
        firsts = sorted(first for first, _ in found)
        finest = statistics.median(last for _, last in found)
        print(
            f"{what:12} median {statistics.median(firsts):.3f} s, "
            f"{firsts[0]:.3f} to {firsts[-1]:.3f} (wanted {wanted_s:g}); finest {finest:.2f}",
            flush=True,
        )


def remembered(page: Any, pid: int, changes: int) -> None:
    """Print what is held as changes go on: of ten, six of the porch and one each of the rest."""
    clients = (
        page.context.new_cdp_session(page),
        page.context.browser.new_browser_cdp_session(),
    )
    for i in range(changes + 1):
        if i % 100 == 0 or i == 50:
            print(f"{i:4} changes: {held(page, clients, pid)}", flush=True)
        lap, turn = divmod(i, 10)
        if turn == 6:
            deed = (field("house.width"), f"{66 + lap % 16 / 4:g} ft", "change")
        elif turn == 7:
            deed = ("#hour", str(480 + 10 * (lap % 48)), "input")
        elif turn == 8:
            deed = ("#undo", "", "click")
        elif turn == 9:
            deed = (f"[name=panes][value='{1 + lap % 2}']", "", "click")
        else:
            deed = (field("porch.diameter"), f"{14 + i % 48 / 8:g} in", "change")
        page.evaluate(DEED, list(deed))


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
