"""Contact sheets: the alternatives side by side, laid where they do not stand already."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from PIL import Image

from massing.files import slug, write_by
from massing.present import words
from massing.present.reports.tables import key_line
from massing.present.sheets.contact_sheet import Heading, Panel, contact_sheet
from massing.present.sheets.paper import saver
from massing.study.code import code_hash
from massing.study.manifest import Manifest, hash_of
from massing.study.pictures import Picture
from massing.study.study import Study


def lay_sheets(
    study: Study,
    manifest: Manifest,
    asked: Sequence[Picture],
    picked: Sequence[Picture],
    pairs: bool,
) -> list[str]:
    """A sheet for each time, view and look picked, of all designs whose pictures are current.

    With ``pairs``, also one for each alternative picked, beside the design as drawn.
    """
    drawn = study.designs[0].name
    made = []
    for sheet in dict.fromkeys((p.sun, p.view, p.look) for p in picked):
        group = [
            p for p in asked if (p.sun, p.view, p.look) == sheet and manifest.stands(p.path, p.key)
        ]
        groups = {f"sheets/{Path(p.path).name}": group for p in group[:1]}
        if pairs and group and group[0].design == drawn:
            chosen = {p.design for p in picked}
            groups |= {
                f"sheets/pairs/{slug(p.design)}_{Path(p.path).name}": [group[0], p]
                for p in group[1:]
                if p.design in chosen
            }
        made += [path for path, of in groups.items() if _lay_sheet(study, manifest, path, of)]
    return made


def _lay_sheet(study: Study, manifest: Manifest, path: str, group: Sequence[Picture]) -> bool:
    """Lay one sheet where it does not stand already; whether it was laid."""
    scene = study.loaded.scene
    by_name = {design.name: design for design in study.designs}
    sun, view, look = group[0].sun, group[0].view, group[0].look
    lines = {p.design: key_line(by_name[p.design], sun) for p in group}
    heading = Heading(
        scene.title, words.view_and_look(view, look), words.light_line(scene.site.place, sun)
    )
    code = code_hash("massing.present.sheets.contact_sheet")
    key = hash_of([p.key for p in group], lines, asdict(heading), scene.units, code)
    if manifest.stands(path, key):
        return False
    folder = manifest.folder
    panels = [
        Panel(p.design, lines[p.design], Image.open(folder / p.path).convert("RGB")) for p in group
    ]
    camera = group[0].camera
    scale = camera.metres_per_pixel if camera.kind == "ortho" else None
    image = contact_sheet(panels, heading, units=scene.units, metres_per_pixel=scale)
    write_by(folder / path, saver(image))
    manifest.record([path], key)
    return True
