"""Contact sheets: the alternatives side by side, laid where they do not stand already."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
from massing.study.pictures import SIZES_PX, Picture
from massing.study.study import Study
from massing.sun.position import SunTime

SheetOf = tuple[SunTime, str, str]
"""Which pictures stand on one sheet: those of a sun, a view and a look."""


def sheet_of(picture: Picture) -> SheetOf:
    """The sheet that a picture stands on."""
    return picture.sun, picture.view, picture.look


def lay_sheets(
    study: Study,
    manifest: Manifest,
    asked: Sequence[Picture],
    picked: Sequence[Picture],
    pairs: bool,
    small: Mapping[str, Picture] | None = None,
) -> list[str]:
    """A sheet for each time, view and look picked, of all designs whose pictures are current.

    With ``pairs``, also one for each alternative picked, beside the design as drawn. A picture
    that is not made yet is shown by its draft in ``small``, if that is.
    """
    drawn = study.designs[0].name
    made = []
    for sheet in dict.fromkeys(map(sheet_of, picked)):
        group = _standing(manifest, [p for p in asked if sheet_of(p) == sheet], small or {})
        groups = {f"sheets/{Path(p.path).name}": group for p in group[:1]}
        if pairs and group and group[0].design == drawn:
            chosen = {p.design for p in picked}
            groups |= {
                f"sheets/pairs/{slug(p.design)}_{Path(p.path).name}": [group[0], p]
                for p in group[1:]
                if p.design in chosen
            }
        for path, of in groups.items():
            some_small = any(p is (small or {}).get(p.path) for p in of)
            if _lay_sheet(study, manifest, path, of, some_small):
                made.append(path)
    return made


def _standing(
    manifest: Manifest, group: Sequence[Picture], small: Mapping[str, Picture]
) -> list[Picture]:
    """The pictures of a sheet that are current, each large or, while it is to come, small."""
    found = []
    for picture in group:
        both = [picture, *([small[picture.path]] if picture.path in small else [])]
        found += [p for p in both if manifest.stands(p.path, p.key)][:1]
    return found


def _lay_sheet(
    study: Study, manifest: Manifest, path: str, group: Sequence[Picture], small: bool
) -> bool:
    """Lay one sheet where it does not stand already; whether it was laid.

    Where some of the pictures are ``small``, all are shown in the size of drafts.
    """
    scene = study.loaded.scene
    by_name = {design.name: design for design in study.designs}
    sun, view, look = group[0].sun, group[0].view, group[0].look
    lines = {p.design: key_line(by_name[p.design], sun) for p in group}
    subject = words.view_and_look(view, look)
    heading = Heading(
        scene.title,
        f"{subject}; small, before the larger pictures are made" if small else subject,
        words.light_line(scene.site.place, sun),
    )
    code = code_hash("massing.present.sheets.contact_sheet")
    key = hash_of([p.key for p in group], lines, asdict(heading), scene.units, code)
    if manifest.stands(path, key):
        return False
    folder = manifest.folder
    camera = group[0].camera
    wide = SIZES_PX["draft"][0]
    size = (wide, round(wide * camera.height_px / camera.width_px)) if small else None
    panels = [Panel(p.design, lines[p.design], _opened(folder / p.path, size)) for p in group]
    scale = camera.metres_per_pixel if camera.kind == "ortho" else None
    if scale and size:
        scale *= camera.width_px / wide
    image = contact_sheet(panels, heading, units=scene.units, metres_per_pixel=scale)
    write_by(folder / path, saver(image))
    manifest.record([path], key)
    return True


def _opened(path: Path, size: tuple[int, int] | None) -> Image.Image:
    with Image.open(path) as picture:
        image = picture.convert("RGB")
    return image if size is None else image.resize(size, Image.Resampling.LANCZOS)
