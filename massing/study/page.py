"""What of a study goes on its page: the pictures that stand as they would be made now."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from massing.present.page.page import Shown, Subject
from massing.study.manifest import Manifest
from massing.study.pictures import SIZES_PX, focus_points, pictures
from massing.study.study import Study


def page_subject(study: Study, folder: Path) -> Subject:
    """A study made ready for its page, with those pictures in ``folder`` that are current."""
    return Subject(
        loaded=study.loaded,
        designs=study.designs,
        models=study.models,
        suns=study.suns,
        bounds_m=study.bounds_m,
        focus=focus_points(study.designs),
        pictures=tuple(standing_pictures(study, folder)),
    )


def standing_pictures(study: Study, folder: Path) -> list[Shown]:
    """The study's pictures that are in the folder and current, in the scene's order.

    A picture of another size than usual counts if it was made in that size.
    """
    manifest = Manifest(folder)
    found: dict[str, Shown] = {}
    sizes = {(*size, quality) for quality, size in SIZES_PX.items()}
    sample = next((path for path in sorted(manifest.entries) if path.endswith(".png")), None)
    if sample and (folder / sample).is_file():
        with Image.open(folder / sample) as image:
            sizes |= {(*image.size, quality) for quality in SIZES_PX}
    for width_px, height_px, quality in sorted(sizes):
        for picture in pictures(study, quality, (width_px, height_px)):
            if manifest.stands(picture.path, picture.key):
                found[picture.path] = Shown(
                    picture.design, picture.view, picture.sun, picture.look, folder / picture.path
                )
    order = [picture.path for picture in pictures(study, "draft")]
    return [found[path] for path in order if path in found]


def wanted_pictures(study: Study) -> int:
    """How many pictures the scene asks for."""
    return len(pictures(study, "draft"))
