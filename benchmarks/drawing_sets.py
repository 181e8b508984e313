"""Sheets for the builder of many designs: made, and every DXF read back and audited.

    python benchmarks/drawing_sets.py               # every design of the bundled scenes
    python benchmarks/drawing_sets.py --random 100  # and so many random designs that can be built
    python benchmarks/drawing_sets.py --random 100 --processes 64
    python benchmarks/drawing_sets.py --pictures sheets  # and a picture of each bundled sheet

Prints for each design its sheets, the errors that ezdxf's auditor finds in them, those it mended
while reading counted in, and the processor seconds that the set took with its files written; exit
code 1 where a sheet has an error or a set could not be made. Random designs are drawn as in
``snapshot.py`` and are the same every time.
"""

from __future__ import annotations

import argparse
import datetime
import io
import json
import multiprocessing
import os
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

sys.path.insert(0, ".")

DOTS = 110  # to an inch of a picture
DRAWN_FOR_ONE = 3  # random scenes for each that can be built, with some to spare


def bundled() -> Iterator[tuple[str, Any]]:
    """Every design of the bundled scenes, with its name."""
    from massing.study.study import read_study

    for path in sorted(Path("scenes").glob("*.yaml")):
        for design in read_study(path).designs:
            yield f"{path.stem}/{design.name}", design


def drawn(count: int, skip: int = 0) -> Iterator[tuple[str, Any]]:
    """``count`` random designs that can be built, after the first ``skip`` random scenes."""
    from benchmarks.snapshot import draw
    from massing.resolve.design import resolve
    from massing.scene.errors import DesignError
    from massing.scene.spec import Scene

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "designs.json"
        draw(path, skip + DRAWN_FOR_ONE * count)
        scenes = json.loads(path.read_text())
    built = 0
    for i, raw in enumerate(scenes[skip:], skip):
        if built == count:
            return
        try:
            design = resolve(Scene.model_validate(raw), "any")
        except DesignError:
            continue
        built += 1
        yield f"random {i}", design


def errors_of(text: str) -> list[str]:
    """What the auditor finds wrong in a DXF file's text."""
    from ezdxf import recover

    document, auditor = recover.read(io.BytesIO(text.encode("utf-8")))
    again = document.audit()
    found = [*auditor.errors, *auditor.fixes, *again.errors, *again.fixes]
    return [f"{each.code}: {each.message}" for each in found]


def set_of(
    name: str, design: Any, formats: tuple[str, ...], pictures: Path | None
) -> tuple[float, dict[str, str]] | None:
    """Processor seconds for the whole set, and its DXF files by name; None: not to be built."""
    from massing.build.house import build
    from massing.present.drawings.drawing_set import (
        drawing_set,
        heading_of,
        paper_for,
        write_set,
    )
    from massing.present.drawings.notes import finding_notes

    try:
        model = build(design)
    except ValueError:
        return None
    heading = heading_of(design, "Any house", datetime.date(2026, 1, 1), {})
    with tempfile.TemporaryDirectory() as folder:
        start = time.process_time()
        paper = paper_for(design, model)
        sheets = drawing_set(design, model, heading, paper, finding_notes(design))
        written = write_set(sheets, heading, Path(folder), design.rounding_m, formats)
        seconds = time.process_time() - start
        for page in written if pictures else ():
            if page.suffix == ".pdf":
                picture(page, name, pictures)
        return seconds, {p.name: p.read_text() for p in written if p.suffix == ".dxf"}


def picture(pages: Path, name: str, folder: Path) -> None:
    """Each page of a PDF as a picture in sixteen greys, small enough to keep hundreds of."""
    import pypdfium2

    from massing.files import slug

    folder.mkdir(parents=True, exist_ok=True)
    for i, page in enumerate(pypdfium2.PdfDocument(pages), 1):
        grey = page.render(scale=DOTS / 72.0, grayscale=True).to_pil()
        grey.quantize(16).save(folder / f"{slug(name)}-{i:02d}.png", optimize=True)


def audited(
    name: str, design: Any, formats: tuple[str, ...], pictures: Path | None
) -> tuple[int, int, bool, str]:
    """A set made and read back: its sheets, its errors, whether it failed, and what is printed."""
    try:
        made = set_of(name, design, formats, pictures)
    except Exception:
        return 0, 0, True, f"{name}: NOT MADE\n{traceback.format_exc(limit=-4)}"
    if made is None:
        return 0, 0, False, f"{name}: not to be built"
    seconds, files = made
    found = {file: errors_of(text) for file, text in files.items()}
    wrong = sum(map(len, found.values()))
    lines = [f"{name}: {len(files)} sheets, {wrong} errors, {seconds:.1f} s"]
    lines += [f"    {file}: {fault}" for file, faults in found.items() for fault in faults[:5]]
    return len(files), wrong, False, "\n".join(lines)


def main() -> int:
    """Make the sets and print a line for each."""
    from massing.present.drawings.drawing_set import FORMATS

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--random", type=int, default=0, metavar="N")
    parser.add_argument("--skip", type=int, default=0, help="random scenes to leave out first")
    parser.add_argument(
        "--only", default="", help="bundled designs with this in their name (none: -)"
    )
    parser.add_argument("--dxf", action="store_true", help="write no other files")
    parser.add_argument("--processes", type=int, default=1, help="how many sets at once")
    parser.add_argument("--pictures", type=Path, help="folder for pictures of bundled sheets")
    options = parser.parse_args()
    asked = [(name, design) for name, design in bundled() if options.only in name]
    own = len(asked)
    if options.random:
        asked += drawn(options.random, options.skip)
    formats = ("dxf",) if options.dxf else FORMATS
    if options.processes > 1:
        os.environ["OPENBLAS_NUM_THREADS"] = "1"
    sets = sheets = errors = failed = 0
    with ProcessPoolExecutor(
        options.processes, mp_context=multiprocessing.get_context("spawn")
    ) as pool:
        waiting = [
            pool.submit(audited, name, design, formats, options.pictures if i < own else None)
            for i, (name, design) in enumerate(asked)
        ]
        for one in waiting:
            made, wrong, broken, words = one.result()
            print(words, flush=True)
            sets, sheets = sets + (made > 0), sheets + made
            errors, failed = errors + wrong, failed + broken
    print(f"{sets} sets, {sheets} sheets, {errors} errors, {failed} sets not made")
    return int(errors > 0 or failed > 0)


if __name__ == "__main__":
    sys.exit(main())
