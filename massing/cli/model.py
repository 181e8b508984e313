"""``massing model``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FINE,
    Refused,
    console,
    one_chosen,
    out_file,
    require_blender,
    takes_design,
    takes_out_file,
    takes_scene,
)

SUMMARY = "write a design's model for another program"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, the format, and where to."""
    takes_scene(parser)
    takes_design(parser)
    parser.add_argument(
        "--format", choices=_formats(), help="default: by the ending of --out, else glb"
    )
    parser.add_argument(
        "--setting", action="store_true", help="with the ground, the figure, trees and neighbours"
    )
    takes_out_file(parser, _endings(), "renders/, scene, models, design.glb")


def _formats() -> tuple[str, ...]:
    from massing.present.models import FORMATS

    return (*FORMATS, "blend")


def _endings() -> tuple[str, ...]:
    return tuple(f".{name}" for name in _formats())


def run(options: argparse.Namespace) -> int:
    """Write the model and say in which units and with which way up."""
    from massing.files import slug
    from massing.practice.cautions import CAUTION
    from massing.present.models import FORMATS, building, write_model
    from massing.render.driver.blend import write_blend
    from massing.study.study import read_study

    study = read_study(options.scene)
    design = one_chosen(study, options.design)
    kind = options.format or "glb"
    path = out_file(options, _endings(), study.loaded.name, "models", f"{slug(design.name)}.{kind}")
    kind = options.format or path.suffix.lower()[1:]
    if path.suffix.lower() != f".{kind}":
        raise Refused(f"--out: given {path}, allowed: a name in .{kind}, as --format says")
    model = study.models[design.name]
    if not options.setting:
        model = building(model)
    out = console()
    if kind == "blend":
        require_blender()
        write_blend(model, path, study.loaded.scene.units)
        words = "Blender, metres, Z up, copies as instances"
        made = [path]
    else:
        words = FORMATS[kind]
        made = [*write_model(model, path)]
    out.print(f"{design.name}: {len(model.parts)} parts; {words}", soft_wrap=True)
    for written in made:
        out.print(str(written), soft_wrap=True)
    out.print(CAUTION, soft_wrap=True)
    return FINE
