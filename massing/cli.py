"""The commands: they read arguments, call the library and print."""

from __future__ import annotations

import argparse
import json
import os
import re
import signal
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from massing import __version__
from massing.scene.errors import SceneError

if TYPE_CHECKING:
    from rich.console import Console

FINE, FAILED, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
DEFAULT_FOLDER = Path("renders")
PIPED_WIDTH = 160
PLATE_ENDINGS = (".svg", ".pdf", ".png")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code.

    0 fine, 1 something failed, 2 the input is at fault, 130 stopped by the user.
    """
    options = _parser().parse_args(arguments)
    before = signal.signal(signal.SIGTERM, _stop)
    try:
        return int(options.run(options))
    except SceneError as fault:
        return _say(BAD_INPUT, str(fault))
    except BrokenPipeError:  # the reader, such as head, has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except OSError as fault:
        return _say(FAILED, " ".join(str(fault).split()))
    except KeyboardInterrupt:
        return _say(INTERRUPTED, "stopped; what is finished is kept, run again to go on")
    finally:
        signal.signal(signal.SIGTERM, before)


def _stop(*_: object) -> None:
    raise KeyboardInterrupt


def _say(code: int, line: str) -> int:
    print(line, file=sys.stderr)
    return code


def _console() -> Console:
    """Standard output; wide where it is not a terminal, so that tables keep their lines."""
    from rich.console import Console

    console = Console(highlight=False)
    return console if console.is_terminal else Console(highlight=False, width=PIPED_WIDTH)


# --- the commands --------------------------------------------------------------------------


def _study(options: argparse.Namespace) -> int:
    from massing.present.progress import duration, progress_on
    from massing.present.tables import print_figures
    from massing.render.run import check_blender
    from massing.study.run import choose, read_study, run_study

    study = read_study(options.scene)
    try:
        choose(study, options.only)
    except ValueError as fault:
        return _say(BAD_INPUT, str(fault))
    suffix = "" if options.quality == "draft" else f"-{options.quality}"
    folder = options.out or DEFAULT_FOLDER / f"{study.loaded.name}{suffix}"
    if folder.exists() and not folder.is_dir():
        return _say(BAD_INPUT, f"--out: given {folder}, a file, allowed: a folder")
    study.build()  # a design that cannot be built is said before anything is written
    hindrance = check_blender()
    if hindrance:
        return _say(FAILED, hindrance)
    console = _console()
    began = time.monotonic()
    with progress_on(console) as progress:
        outcome = run_study(
            study,
            folder,
            only=options.only,
            quality=options.quality,
            size_px=options.size,
            device=options.device,
            progress=progress,
            say=lambda text: print(text, file=sys.stderr),
            shadows=not options.only,
            also=options.also,
            pairs=options.pairs,
        )
    print_figures(console, study.designs, study.suns)
    sheets = sum(path.startswith("sheets/") for path in outcome.made)
    measured = sum(path.startswith("shadows/") for path in outcome.made)
    made = sum(path.endswith(".png") for path in outcome.made if not path.startswith("shadows/"))
    made -= sheets
    console.print(
        f"{made} pictures made, {len(outcome.kept)} kept as they were, {sheets} sheets laid out, "
        f"{measured} files of shadows "
        f"in {duration(time.monotonic() - began)}: {folder}",
        soft_wrap=True,
    )
    for path, error in outcome.failed.items():
        _say(FAILED, f"{path}: {error}")
    return FAILED if outcome.failed else FINE


def _show(options: argparse.Namespace) -> int:
    from massing.present.tables import print_origins
    from massing.scene.load import given_fields
    from massing.study.run import read_study

    study = read_study(options.scene)
    names = [design.name for design in study.designs]
    if options.name and options.name.lower() not in (name.lower() for name in names):
        return _say(BAD_INPUT, f"NAME: given {options.name}, allowed: {', '.join(names)}")
    console = _console()
    for design in study.designs:
        if not options.name or design.name.lower() == options.name.lower():
            spec, lines = study.loaded.designs[design.name], study.loaded.lines[design.name]
            print_origins(console, design, given_fields(spec, lines, design.origins))
    return FINE


def _figures(options: argparse.Namespace) -> int:
    from massing.present.tables import figures_csv, figures_json, print_figures, print_findings
    from massing.study.run import read_study

    study = read_study(options.scene)
    if options.format == "json":
        print(figures_json(study.designs, study.suns), end="")
    elif options.format == "csv":
        print(figures_csv(study.designs, study.suns), end="")
    else:
        console = _console()
        print_figures(console, study.designs, study.suns)
        print_findings(console, study.designs)
    return FINE


def _shadows(options: argparse.Namespace) -> int:
    from massing.files import sole_use
    from massing.present.shadow_tables import print_moments, print_raking, print_year
    from massing.study.run import read_study
    from massing.study.shadows import write_shadows

    study = read_study(options.scene)
    folder = options.out or DEFAULT_FOLDER / study.loaded.name / "shadows"
    if folder.exists() and not folder.is_dir():
        return _say(BAD_INPUT, f"--out: given {folder}, a file, allowed: a folder")
    study.build()
    with sole_use(folder, lambda: _say(FINE, f"{folder} is in use by another run; waiting")):
        report = write_shadows(
            study, folder, year=options.year, say=lambda text: print(text, file=sys.stderr)
        )
    console = _console()
    site = study.designs[0].site
    print_moments(console, report.moments, study.loaded.scene.units)
    print_raking(console, report.raking, site)
    if report.suns is not None:
        print_year(console, report.years, report.suns, site)
    console.print(f"{len(report.made)} files: {folder}", soft_wrap=True)
    return FINE


def _plate(options: argparse.Namespace) -> int:
    from massing.present.plates import save_plate

    if (options.order is None) == (options.scene is None):
        return _say(BAD_INPUT, "plate: give an ORDER, or --scene SCENE")
    if options.scene is not None:
        return _plate_of_scene(options)
    canon = options.canon or "vignola"
    name = f"{canon}-{options.order.replace(' ', '-')}.svg"
    path = options.out or DEFAULT_FOLDER / "plates" / name
    if path.suffix.lower() not in PLATE_ENDINGS:
        return _say(BAD_INPUT, f"--out: given {path}, allowed: a name in {_listed(PLATE_ENDINGS)}")
    try:
        save_plate(options.order, canon, path)
    except ValueError as fault:
        return _say(BAD_INPUT, " ".join(str(fault).split()))
    print(path)
    return FINE


def _plate_of_scene(options: argparse.Namespace) -> int:
    from massing.files import slug
    from massing.present.plates import save_design_plate
    from massing.study.run import read_study

    if options.canon is not None:
        return _say(BAD_INPUT, "--canon: only with an ORDER; a scene names its own canon")
    study = read_study(options.scene)
    wanted = options.alternative or study.designs[0].name
    found = next((d for d in study.designs if d.name.lower() == wanted.lower()), None)
    if found is None:
        names = ", ".join(d.name for d in study.designs)
        return _say(BAD_INPUT, f"--alternative: given {wanted}, allowed: {names}")
    name = f"{study.loaded.name}-{slug(found.name)}.svg"
    path = options.out or DEFAULT_FOLDER / "plates" / name
    if path.suffix.lower() not in PLATE_ENDINGS:
        return _say(BAD_INPUT, f"--out: given {path}, allowed: a name in {_listed(PLATE_ENDINGS)}")
    save_design_plate(found, path)
    print(path)
    return FINE


def _listed(words: Sequence[str]) -> str:
    return ", ".join(words[:-1]) + f" or {words[-1]}"


def _series(options: argparse.Namespace) -> int:
    from massing.present.progress import progress_on
    from massing.render.run import check_blender
    from massing.study.run import read_study
    from massing.study.series import run_day, run_seasons

    if (options.day is None) == (options.hour is None):
        return _say(BAD_INPUT, "series: give --day DAY, or --hour HH:MM for the four seasons")
    study = read_study(options.scene)
    study.build()
    names = {design.name.lower(): design.name for design in study.designs}
    wrong = next((name for name in options.design if name.lower() not in names), None)
    if wrong is not None:
        return _say(BAD_INPUT, f"--design: given {wrong}, allowed: {', '.join(names.values())}")
    chosen = [names[name.lower()] for name in options.design] or list(names.values())
    hindrance = check_blender()
    if hindrance:
        return _say(FAILED, hindrance)
    console = _console()
    common = {
        "view": options.view,
        "look": options.look,
        "quality": options.quality,
        "size_px": options.size,
        "device": options.device,
    }
    folder = options.out or DEFAULT_FOLDER / study.loaded.name / "series"
    outcomes = []
    try:
        with progress_on(console) as progress:
            if options.hour is not None:
                outcomes.append(
                    run_seasons(
                        study,
                        folder,
                        clock=options.hour,
                        designs=chosen,
                        progress=progress,
                        **common,
                    )
                )
            else:
                for name in chosen:
                    outcomes.append(
                        run_day(
                            study,
                            folder,
                            day=options.day,
                            design=name,
                            step_min=options.step,
                            progress=progress,
                            **common,
                        )
                    )
    except ValueError as fault:
        return _say(BAD_INPUT, f"series: {fault}")
    for outcome in outcomes:
        for path in outcome.made:
            console.print(str(path), soft_wrap=True)
        for name, error in outcome.failed.items():
            _say(FAILED, f"{name}: {error}")
    return FAILED if any(outcome.failed for outcome in outcomes) else FINE


def _sizes(options: argparse.Namespace) -> int:
    from massing.present.schedule import schedule_csv
    from massing.present.tables import print_schedule
    from massing.study.run import read_study

    study = read_study(options.scene)
    if options.format == "csv":
        print(schedule_csv(study.designs), end="")
        return FINE
    console = _console()
    for design in study.designs:
        print_schedule(console, design)
    return FINE


def _overlay(options: argparse.Namespace) -> int:
    from massing.study.overlay import make_overlay, read_sheet
    from massing.study.run import read_study

    study = read_study(options.scene)
    wanted = (options.design or study.designs[0].name).lower()
    design = next((d for d in study.designs if d.name.lower() == wanted), None)
    if design is None:
        names = ", ".join(d.name for d in study.designs)
        return _say(BAD_INPUT, f"--design: given {options.design}, allowed: {names}")
    folder = options.out or DEFAULT_FOLDER / study.loaded.name / "overlay"
    if folder.exists() and not folder.is_dir():
        return _say(BAD_INPUT, f"--out: given {folder}, a file, allowed: a folder")
    read_sheet(study.loaded)  # a drawing that cannot be used is said before anything is built
    made, said = make_overlay(study, design, folder)
    console = _console()
    for line in said:
        console.print(line[:1].upper() + line[1:], soft_wrap=True)
    for path in made:
        console.print(str(path), soft_wrap=True)
    return FINE


def _schema(options: argparse.Namespace) -> int:
    from massing.scene.schema import scene_schema

    print(json.dumps(scene_schema(), indent=2, ensure_ascii=False))
    return FINE


def _check(options: argparse.Namespace) -> int:
    from massing.study.overlay import read_sheet
    from massing.study.run import read_study

    study = read_study(options.scene)
    study.build()
    if study.loaded.scene.drawing is not None:
        read_sheet(study.loaded)
    others = "; ".join(design.name for design in study.designs[1:]) or "no alternatives"
    print(f"{options.scene}: fine; {study.designs[0].name}; {others}")
    return FINE


# --- their arguments -----------------------------------------------------------------------


def _size(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{2,5})[x×](\d{2,5})", text)
    if not match:
        raise argparse.ArgumentTypeError(f"given {text}, allowed: pixels such as 1200x750")
    return int(match[1]), int(match[2])


def _parser() -> argparse.ArgumentParser:
    from massing.render.shots import ALSO, DEVICES, LOOKS
    from massing.view.cameras import VIEWS

    parser = argparse.ArgumentParser(
        prog="massing",
        description="Compare the alternatives of a house's porch: the same pictures in the same "
        "true sunlight, side by side, and the figures that explain the difference.",
    )
    parser.add_argument("--version", action="version", version=f"massing {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    study = _command(commands, "study", _study, "make a scene's pictures, sheets and figures")
    study.add_argument(
        "--out",
        type=Path,
        metavar="FOLDER",
        help="where to (default: renders/ and the scene's name, with -final for final quality)",
    )
    study.add_argument(
        "--only",
        action="append",
        default=[],
        metavar="NAME",
        help="only this alternative, time, view or look; may be repeated",
    )
    study.add_argument(
        "--quality",
        choices=("draft", "final"),
        default="draft",
        help="draft for looking, final for keeping (default: draft)",
    )
    study.add_argument(
        "--size",
        type=_size,
        metavar="WxH",
        help="pixels of a picture (default: 800x500 for draft, 1600x1000 for final)",
    )
    study.add_argument(
        "--also",
        action="append",
        default=[],
        choices=ALSO,
        help="write each picture as this too: PNG of 16 bits, OpenEXR, JPEG; may be repeated",
    )
    study.add_argument(
        "--pairs",
        action="store_true",
        help="also lay each alternative beside the design as drawn, in sheets/pairs/",
    )
    study.add_argument("--device", choices=DEVICES, default="auto", help="what renders (auto)")

    show = _command(commands, "show", _show, "print every dimension and where it came from")
    show.add_argument("name", nargs="?", metavar="NAME", help="one alternative (default: all)")

    figures = _command(commands, "figures", _figures, "print proportions, shadows and findings")
    figures.add_argument(
        "--format", choices=("table", "json", "csv"), default="table", help="default: table"
    )

    shadows = _command(
        commands,
        "shadows",
        _shadows,
        "measure sun and shadow on the built model, as tables and plots",
    )
    shadows.add_argument(
        "--out", type=Path, metavar="FOLDER", help="where to (default: renders/, scene, shadows)"
    )
    shadows.add_argument(
        "--year", action="store_true", help="also the hours of sun through the whole year"
    )

    series = _command(
        commands, "series", _series, "make the film of a day, or one hour in four seasons"
    )
    series.add_argument("--day", help="a film and a strip of this day, such as 14 May")
    series.add_argument("--hour", metavar="HH:MM", help="a strip of this hour in four seasons")
    series.add_argument(
        "--design", action="append", default=[], metavar="NAME", help="may be repeated (all)"
    )
    series.add_argument("--view", default="street", choices=VIEWS, metavar="VIEW")
    series.add_argument("--look", default="materials", choices=LOOKS)
    series.add_argument("--step", type=float, default=20.0, metavar="MIN", help="minutes (20)")
    series.add_argument("--out", type=Path, metavar="FOLDER")
    series.add_argument("--quality", choices=("draft", "final"), default="draft")
    series.add_argument("--size", type=_size, metavar="WxH")
    series.add_argument("--device", choices=DEVICES, default="auto", help="what renders (auto)")

    sizes = _command(commands, "sizes", _sizes, "print the builder's schedule of every member")
    sizes.add_argument("--format", choices=("table", "csv"), default="table", help="default: table")

    overlay = _command(
        commands, "overlay", _overlay, "lay the model's front over the builder's drawing"
    )
    overlay.add_argument("--design", metavar="NAME", help="one alternative (default: as drawn)")
    overlay.add_argument(
        "--out", type=Path, metavar="FOLDER", help="where to (default: renders/, scene, overlay)"
    )

    _command(commands, "check", _check, "say whether a scene file is valid")
    plate = _command(
        commands, "plate", _plate, "draw an order as a book's plate does", takes_scene=False
    )
    plate.add_argument(
        "order", nargs="?", metavar="ORDER", help="such as tuscan, doric, ionic, corinthian"
    )
    plate.add_argument("--canon", help="whose proportions (default: vignola)")
    plate.add_argument(
        "--scene",
        type=Path,
        metavar="SCENE",
        help="the order as a scene's porch has it, beside the canon's",
    )
    plate.add_argument(
        "--alternative", metavar="NAME", help="of that scene (default: the design as drawn)"
    )
    plate.add_argument(
        "--out", type=Path, metavar="FILE", help=".svg, .pdf or .png (default: in renders/plates/)"
    )
    _command(
        commands,
        "schema",
        _schema,
        "print the scene file's JSON Schema, for editors",
        takes_scene=False,
    )
    return parser


def _command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser],
    name: str,
    run: object,
    summary: str,
    takes_scene: bool = True,
) -> argparse.ArgumentParser:
    command = commands.add_parser(name, help=summary, description=f"{summary}.".capitalize())
    command.set_defaults(run=run)
    if takes_scene:
        command.add_argument("scene", type=Path, metavar="SCENE", help="scene file (YAML)")
    return command
