"""How soon a page shows its first picture and its model, in Debian's chromium with software GL.

    python -m benchmarks.page_speed renders/marsh_road/page.html

Milliseconds from asking for the file: first contentful paint, the first picture decoded, the canvas
there, and the model itself drawn: the first frame with a house in it, read back from the canvas.
The median of some openings, each in a browser of its own.
"""

from __future__ import annotations

import argparse
import statistics
from pathlib import Path
from typing import Any

from tests.helpers.browser import browser

WATCH = """
window.marks = {};
const mark = (name) => (window.marks[name] ??= performance.now());
new PerformanceObserver((list) => {
  for (const entry of list.getEntries())
    if (entry.name === "first-contentful-paint") window.marks.paint ??= entry.startTime;
}).observe({ type: "paint", buffered: true });
const inked = (canvas) => {
  const small = document.createElement("canvas");
  [small.width, small.height] = [40, 25];
  const pen = small.getContext("2d");
  pen.drawImage(canvas, 0, 0, 40, 25);
  const data = pen.getImageData(0, 0, 40, 25).data;
  let [least, most] = [255, 0];
  for (let i = 0; i < data.length; i += 4) {
    if (!data[i + 3]) continue;
    const grey = (data[i] + data[i + 1] + data[i + 2]) / 3;
    [least, most] = [Math.min(least, grey), Math.max(most, grey)];
  }
  return most - least > 60;
};
const look = () => {
  const image = document.querySelector("main img");
  if (image?.complete && image.naturalWidth) image.decode().then(() => mark("picture"));
  const stage = document.getElementById("stage");
  const canvas = stage?.querySelector("canvas");
  if (canvas) mark("canvas");
  if (stage?.viewer && stage.dataset.drawn !== undefined && !window.marks.model) {
    if (inked(canvas)) mark("model");
  }
  if (!window.marks.model || !window.marks.picture) requestAnimationFrame(look);
};
requestAnimationFrame(look);
"""
NAMES = ("paint", "picture", "canvas", "model")


def opened(path: Path, wide: int, tall: int) -> dict[str, float]:
    """Marks of one opening, milliseconds."""
    with browser() as running:
        page = running.new_page(viewport={"width": wide, "height": tall})
        page.set_default_timeout(120_000)
        page.add_init_script(WATCH)
        page.goto(path.resolve().as_uri(), wait_until="commit")
        page.wait_for_function("window.marks?.model && window.marks?.picture")
        found: dict[str, Any] = page.evaluate("window.marks")
        return {name: float(found[name]) for name in NAMES if name in found}


def main() -> None:
    """Print a row for each page."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("pages", nargs="+", type=Path)
    asked.add_argument("--times", type=int, default=3)
    asked.add_argument("--size", default="1280x800")
    options = asked.parse_args()
    wide, tall = map(int, options.size.split("x"))
    print(f"{'page':<28}{'MB':>6}" + "".join(f"{name:>10}" for name in NAMES))
    for path in options.pages:
        runs = [opened(path, wide, tall) for _ in range(options.times)]
        medians = [statistics.median(run.get(n, float("nan")) for run in runs) for n in NAMES]
        size = path.stat().st_size / 1e6
        row = "".join(f"{value:>8.0f}ms" for value in medians)
        print(f"{path.parent.name or path.stem:<28}{size:>6.1f}{row}")


if __name__ == "__main__":
    main()
