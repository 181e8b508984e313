"""What of a study goes on its page: the pictures that stand as they would be made now."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from massing.files import write_whole
from massing.present.page.page import Shown, Subject, page_html
from massing.study.manifest import Manifest
from massing.study.pictures import SIZES_PX, focus_points, pictures
from massing.study.study import Study


@dataclass(frozen=True)
class PageOutcome:
    """A page that was written; how many pictures it shows, and how many the scene asks for."""

    path: Path
    pictures: int
    wanted: int

    @property
    def words(self) -> str:
        """What was made, in a line."""
        megabytes = self.path.stat().st_size / 1e6
        return f"{self.path}: {self.pictures} pictures, {megabytes:.1f} MB"


def make_page(study: Study, folder: Path, path: Path) -> PageOutcome:
    """Write a study's page to ``path``, with the pictures that stand in ``folder``."""
    subject = page_subject(study, folder)
    write_whole(path, page_html(subject))
    return PageOutcome(path, len(subject.pictures), len(pictures(study, "draft")))


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
