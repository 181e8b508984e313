"""What of a study goes on its page: the pictures that stand as they would be made now."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, replace
from pathlib import Path

from PIL import Image

from massing.files import write_whole
from massing.present.page.page import page_html
from massing.present.page.subject import Shown, Subject
from massing.present.page.viewer_data import packed_models
from massing.study.code import code_hash
from massing.study.manifest import Manifest, hash_of, model_hash
from massing.study.pictures import SIZES_PX, SMALL_PX, focus_points, pictures, spare_sky
from massing.study.study import Study

PAGE = "page.html"
PAGE_EVERY_S = 10.0


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


class PageAlongTheWay:
    """A study's page that is made again as its pictures come; the model is packed once."""

    def __init__(self, study: Study, folder: Path) -> None:
        """Nothing is made yet; see :meth:`make`."""
        self.study, self.folder = study, folder
        self.path = folder / PAGE
        self._packed: bytes | None = None
        self._made_at = -math.inf

    def make(self, coming: int = 0) -> PageOutcome:
        """Write the page; while pictures are ``coming`` it takes itself in again."""
        subject = page_subject(self.study, self.folder)
        if self._packed is None:
            self._packed = packed_models([subject.models[d.name] for d in subject.designs])
        subject = replace(subject, packed=self._packed, coming=coming)
        write_whole(self.path, page_html(subject))
        self._made_at = time.monotonic()
        return PageOutcome(self.path, len(subject.pictures), _wanted(self.study))

    def make_if_due(self, coming: int) -> bool:
        """Write the page unless it was written a moment ago; says whether it was."""
        due = time.monotonic() - self._made_at > PAGE_EVERY_S
        if due:
            self.make(coming)
        return due

    def finish(self, manifest: Manifest) -> bool:
        """Write the page as it stays, unless it stands so; says whether it was written."""
        shown = [(p.file.name, manifest.entries[self._name(p)].key) for p in self._standing()]
        scene = self.study.loaded.scene.model_dump(mode="json")
        designs = [model_hash(self.study.models[design.name]) for design in self.study.designs]
        code = code_hash("massing.study.page")
        key = hash_of(scene, self.study.loaded.path.name, designs, shown, code)
        if manifest.stands(PAGE, key):
            return False
        self.make()
        manifest.record([PAGE], key)
        return True

    def _standing(self) -> list[Shown]:
        return standing_pictures(self.study, self.folder)

    def _name(self, picture: Shown) -> str:
        return picture.file.relative_to(self.folder).as_posix()


def make_page(study: Study, folder: Path, path: Path) -> PageOutcome:
    """Write a study's page to ``path``, with the pictures that stand in ``folder``."""
    subject = page_subject(study, folder)
    write_whole(path, page_html(subject))
    return PageOutcome(path, len(subject.pictures), _wanted(study))


def _wanted(study: Study) -> int:
    return len(pictures(study, "draft"))


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
    sizes = {(*size, quality) for quality, size in SIZES_PX.items()} | {(*SMALL_PX, "draft")}
    sample = next((path for path in sorted(manifest.entries) if path.endswith(".png")), None)
    if sample and (folder / sample).is_file():
        with Image.open(folder / sample) as image:
            sizes |= {(*image.size, quality) for quality in SIZES_PX}
    for width_px, height_px, quality in sorted(sizes):
        for picture in pictures(study, quality, (width_px, height_px)):
            if manifest.stands(picture.path, picture.key):
                found[picture.path] = Shown(
                    picture.design,
                    picture.view,
                    picture.sun,
                    picture.look,
                    folder / picture.path,
                    spare_sky(study, picture.camera),
                )
    order = [picture.path for picture in pictures(study, "draft")]
    return [found[path] for path in order if path in found]
