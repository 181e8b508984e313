"""Contact sheets: the alternatives side by side, laid where they do not stand already."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any
from zlib import crc32

from PIL import Image

from massing.files import slug, write_by
from massing.findings.change import telling_sun
from massing.present import words
from massing.present.reports.beside_the_books import beside_the_books, lede_finding
from massing.present.reports.tables import key_line
from massing.present.sheets.contact_sheet import Heading, Panel, contact_sheet
from massing.present.sheets.given_image import given_image
from massing.present.sheets.paper import saver
from massing.present.sheets.paper import sheet as paper_sheet
from massing.study.code import code_hash
from massing.study.manifest import Manifest, hash_of
from massing.study.pictures import SIZES_PX, Picture, light, spare_sky
from massing.study.study import Study
from massing.sun.position import SunTime

ON_THE_TABLE = "sheets/on-the-table.png"
_ON_TABLE = ("elevation", "street")
_MAKERS = ("sheets.contact_sheet", "reports.beside_the_books")

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
    if _lay_on_the_table(study, manifest, asked):
        made.append(ON_THE_TABLE)
    return made


def _lay_on_the_table(study: Study, manifest: Manifest, asked: Sequence[Picture]) -> bool:
    """The one sheet to put on the table, where its pictures stand; whether it was laid.

    All designs, each in elevation and from the street, at the hour that shows the cornice best.
    """
    sun = telling_sun(study.suns) or study.suns[0]
    looks = [p.look for p in asked]
    look = next((x for x in ("materials", "clay") if x in looks), looks[0] if looks else "")
    found = {
        (p.design, p.view): p
        for p in asked
        if p.sun == sun and p.look == look and manifest.stands(p.path, p.key)
    }
    group = [
        found[d.name, view] for d in study.designs for view in _ON_TABLE if (d.name, view) in found
    ]
    whole = len(group) == len(study.designs) * len(_ON_TABLE)
    if not whole or len({p.camera.width_px for p in group}) != 1:
        return False
    scene = study.loaded.scene
    heading = Heading(
        scene.title,
        f"{words.view_and_look('elevation', look)}, and from the street",
        words.light_line(scene.site.place, sun),
    )
    told = [_told(study, design.name, sun) for design in study.designs]
    signed = _signed(study)
    codes = [code_hash(f"massing.present.{m}") for m in _MAKERS]
    sky = {view: spare_sky(study, found[study.designs[0].name, view].camera) for view in _ON_TABLE}
    pictured = [p.key for p in group], sky
    key = hash_of(pictured, told, asdict(heading), scene.units, signed, codes)
    if manifest.stands(ON_THE_TABLE, key):
        return False
    panels = _panels_on_the_table(study, manifest.folder, found, told, sky)
    scale = found[study.designs[0].name, "elevation"].camera.metres_per_pixel
    image = contact_sheet(
        panels,
        heading,
        units=scene.units,
        metres_per_pixel=scale,
        columns=len(panels) if len(panels) <= 4 else None,
        signed=signed,
    )
    write_by(manifest.folder / ON_THE_TABLE, saver(image))
    manifest.record([ON_THE_TABLE], key)
    return True


def _panels_on_the_table(
    study: Study,
    folder: Path,
    found: Mapping[tuple[str, str], Picture],
    told: Sequence[dict[str, Any]],
    sky: Mapping[str, float],
) -> list[Panel]:
    """Each design's two pictures, one over the other, with what is told of it."""
    panels = []
    for design, said in zip(study.designs, told, strict=True):
        both = [
            _opened(folder / found[design.name, view].path, None, sky[view]) for view in _ON_TABLE
        ]
        panels.append(Panel(_named(design.name, said), picture=_over(both), **said))
    return panels


def _over(pictures: Sequence[Image.Image]) -> Image.Image:
    """Pictures of one width under one another, a strip of paper between them."""
    wide = pictures[0].width
    strip = max(4, wide // 100)
    whole = paper_sheet(wide, sum(p.height for p in pictures) + strip * (len(pictures) - 1))
    top = 0
    for picture in pictures:
        whole.paste(picture, (0, top))
        top += picture.height + strip
    return whole


def _told(study: Study, name: str, sun: SunTime) -> dict[str, Any]:
    """What stands under a design's picture: its mark, figures, three numbers each, one finding."""
    drawn = study.designs[0]
    place = [d.name for d in study.designs].index(name)
    design = study.designs[place]
    rows = beside_the_books(drawn, design)
    heads = ("", "as drawn", "the books", "here") if place else ("", "as drawn", "the books")
    cells = [(r.name, r.drawn, r.books, r.here)[: len(heads)] for r in rows]
    return {
        "figures": _sentence(key_line(design, sun).rsplit(" · ", 1)[-1]),  # the rest stands below
        "mark": words.mark(place),
        "numbers": (heads, *cells),
        "finding": lede_finding(design),
    }


def _sentence(words_: str) -> str:
    return words_[:1].upper() + words_[1:]


def _signed(study: Study) -> str:
    """Who drew it and when, as the scene's title block has it."""
    block = study.loaded.scene.sheet
    if block is None:
        return ""
    said = (block.project, block.designer, block.client, block.date)
    return " · ".join(str(each) for each in said if each)


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
    sun, view, look = group[0].sun, group[0].view, group[0].look
    told = [_told(study, p.design, sun) for p in group]
    subject = words.view_and_look(view, look)
    heading = Heading(
        scene.title,
        f"{subject}; small, before the larger pictures are made" if small else subject,
        words.light_line(scene.site.place, light(study, group[0])),
    )
    signed = _signed(study)
    builders = _as_the_builder_drew(study) if view == "elevation" else None
    stamp = 0 if builders is None else crc32(builders.tobytes())
    codes = [code_hash(f"massing.present.{m}") for m in _MAKERS]
    sky = spare_sky(study, group[0].camera)
    pictured = [p.key for p in group], sky
    key = hash_of(pictured, told, stamp, asdict(heading), scene.units, signed, codes)
    if manifest.stands(path, key):
        return False
    folder = manifest.folder
    camera = group[0].camera
    wide = SIZES_PX["draft"][0]
    size = (wide, round(wide * camera.height_px / camera.width_px)) if small else None
    panels = [
        Panel(_named(p.design, said), picture=_opened(folder / p.path, size, sky), **said)
        for p, said in zip(group, told, strict=True)
    ]
    if builders is not None and len(group) > 1:
        whole = _within(builders, panels[0].picture.size)
        panels.insert(0, Panel("The builder's own drawing", "", whole))
    scale = camera.metres_per_pixel if camera.kind == "ortho" else None
    if scale and size:
        scale *= camera.width_px / wide
    image = contact_sheet(panels, heading, units=scene.units, metres_per_pixel=scale, signed=signed)
    write_by(folder / path, saver(image))
    manifest.record([path], key)
    return True


def _named(name: str, said: Mapping[str, Any]) -> str:
    """A design's name beside its mark, unless the mark says it already."""
    return "" if name.lower() == said["mark"].lower() else name


def _as_the_builder_drew(study: Study) -> Image.Image | None:
    """The builder's own elevation, where the scene names one that can be read."""
    drawing = study.loaded.scene.drawing
    if drawing is None:
        return None
    try:
        return given_image(study.loaded.path.parent, drawing.image).convert("RGB")
    except ValueError:
        return None


def _within(picture: Image.Image, size: tuple[int, int]) -> Image.Image:
    """A picture as large as it goes into a size, on paper."""
    whole = paper_sheet(*size)
    share = min(size[0] / picture.width, size[1] / picture.height)
    fitted = picture.resize(
        (max(1, round(picture.width * share)), max(1, round(picture.height * share))),
        Image.Resampling.LANCZOS,
    )
    whole.paste(fitted, ((size[0] - fitted.width) // 2, (size[1] - fitted.height) // 2))
    return whole


def _opened(path: Path, size: tuple[int, int] | None, sky: float = 0.0) -> Image.Image:
    """A picture, in another size if asked, without a share ``sky`` of its height at the top."""
    with Image.open(path) as picture:
        image = picture.convert("RGB")
    if size is not None:
        image = image.resize(size, Image.Resampling.LANCZOS)
    return image.crop((0, round(sky * image.height), *image.size)) if sky else image
