"""The builder's drawing on the desk: opened, scaled, and its sizes taken off click by click.

All measuring and rounding is :mod:`massing.edit.takeoff`'s; here it is held, kept beside the
scene, and put into the scene in hand.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from massing.build.house import build
from massing.cli.desk.refusal import Refusal
from massing.design.design import Design
from massing.edit.takeoff.alternatives import standing_alternatives
from massing.edit.takeoff.deviations import deviations
from massing.edit.takeoff.opening import MOST_BYTES, Opened, opened
from massing.edit.takeoff.questions import BY_KEY, QUESTIONS
from massing.edit.takeoff.scale import Known, Point, Scale, scale_of
from massing.edit.takeoff.sizes import Front, Sizes, front_of, sizes
from massing.edit.takeoff.snapping import Picture
from massing.edit.takeoff.straighten import straightened
from massing.edit.takeoff.takeoff import TakeOff, snapped
from massing.files import given_path, read_bounded, write_users_own
from massing.scene.edit import FieldPath
from massing.units import INCH_M, format_length, parse_length
from massing.view.hidden_lines import visible_lines

if TYPE_CHECKING:
    from PIL import Image

    from massing.edit.session import SceneInHand

FRONT_STEP_M = 0.1


@dataclass
class _Sheet:
    """A drawing that lies on the desk.

    Attributes:
        name: as it was called.
        image: what is measured in.
        file: its name beside the scene, once it is kept there.
        shrunk: how much smaller it is than that file.
        data: the file's bytes while another of its pages can be asked for.
        seen: another word for another picture, so that a page fetches it anew.
    """

    name: str
    image: Image.Image
    pages: int = 1
    page: int = 1
    file: str = ""
    shrunk: float = 1.0
    data: bytes = b""
    seen: str = ""


class DrawingBoard:
    """The drawing that sizes are taken off, if there is one, and how far that has come."""

    def __init__(self, hand: Callable[[], SceneInHand]) -> None:
        self._hand = hand
        self._clear()

    def _clear(self) -> None:
        self._sheet: _Sheet | None = None
        self._picture: Picture | None = None
        self._known: list[Known] = []
        self._scale: Scale | None = None
        self._own_scale: float | None = None
        self._off: TakeOff | None = None
        self._gave_way: tuple[str, ...] = ()  # alternatives, in sentences

    # --- opening ------------------------------------------------------------------------------

    def open(self, name: str, data: bytes, page: int = 1) -> None:
        """Lay a file on the board: a picture, a page of a PDF, or a DXF.

        Raises:
            Refusal: it is not read here.
        """
        try:
            found = opened(data, page)
        except ValueError as fault:
            raise Refusal(f"{name}: {fault}") from None
        self._lay(name, found, page, data if found.pages > 1 else b"")

    def open_scenes(self) -> None:
        """Lay the drawing that the scene names on the board, at the scale that it has there.

        Raises:
            Refusal: the scene names none, or one that is not read.
        """
        from massing.scene.errors import DesignError
        from massing.study.overlay import fit_drawing

        hand = self._hand()
        drawing = hand.reading.loaded.scene.drawing
        if drawing is None:
            raise Refusal("the scene names no drawing yet: open one")
        try:
            path = given_path(hand.path.parent, drawing.image)
            data = read_bounded(path, MOST_BYTES)
            found = opened(data)
            fit = fit_drawing(drawing)
        except (OSError, ValueError, DesignError) as fault:
            raise Refusal(f"{drawing.image}: {fault}") from None
        self._lay(drawing.image, found, 1, b"")
        assert self._sheet is not None
        self._sheet.file = drawing.image
        self._sheet.shrunk = _shrunk(data, found)
        self._own_scale = fit.metres_per_pixel / self._sheet.shrunk
        self._begin(self._own_scale)

    def turn_to(self, page: int) -> None:
        """Another page of the PDF that lies there; raises Refusal where there is none such."""
        sheet = self._laid()
        if not sheet.data:
            raise Refusal("the drawing has one page")
        self.open(sheet.name, sheet.data, page)

    def _lay(self, name: str, found: Opened, page: int, data: bytes) -> None:
        self._clear()
        self._sheet = _Sheet(name, found.image, found.pages, page, data=data)
        self._sheet.seen = hashlib.blake2b(found.image.tobytes(), digest_size=8).hexdigest()
        self._picture = Picture(found.image)
        self._own_scale = found.metres_per_pixel
        if found.metres_per_pixel is not None:
            self._begin(found.metres_per_pixel)

    def close(self) -> None:
        """Take the drawing off the board; what was written into the scene stays."""
        self._clear()

    # --- scale ----------------------------------------------------------------------------------

    def known(self, start: Point, end: Point, length: str, radius_px: float) -> None:
        """One more known length between two points; both go to the lines that they mean.

        Raises:
            Refusal: no length, or points too near one another.
        """
        self._laid()
        try:
            ends = [self._end(point, radius_px) for point in (start, end)]
            known = [*self._known, Known(ends[0], ends[1], parse_length(length))]
            self._scale = scale_of(known)
        except ValueError as fault:
            raise Refusal(str(fault)) from None
        self._known = known
        self._begin(self._scale.metres_per_pixel)

    def unscale(self) -> None:
        """Forget the scale, and what was clicked by it."""
        self._known, self._scale, self._off = [], None, None

    def straighten(self, corners: Sequence[Point], width: str, height: str, by_px: float) -> None:
        """Make a photograph square by four corners of a rectangle of the front.

        Raises:
            Refusal: no such rectangle.
        """
        sheet = self._laid()
        try:
            ends = [self._end(point, by_px) for point in corners]
            size_m = parse_length(width), parse_length(height)
            image, scale = straightened(sheet.image, ends, *size_m)
        except ValueError as fault:
            raise Refusal(str(fault)) from None
        self._lay(f"{sheet.name}, straightened", Opened(image, scale), 1, b"")

    def _end(self, point: Point, radius_px: float) -> Point:
        assert self._picture is not None
        found = self._picture.snap(*point, radius_px)
        return found.x, found.y

    def _begin(self, metres_per_pixel: float) -> None:
        marks = self._off.marks if self._off else {}
        at = self._off.at if self._off else 0
        self._off = TakeOff(metres_per_pixel, marks, at)

    # --- clicks ---------------------------------------------------------------------------------

    def click(self, x: float, y: float, radius_px: float) -> None:
        """One click for the question that is asked."""
        self._off = self._under_way().clicked(x, y, self._picture, radius_px)
        self._write()

    def move_on(self) -> None:
        """The next question: the others are as marked, or this is not drawn."""
        self._off = self._under_way().passed(self._picture)
        self._write()

    def take_back(self) -> None:
        """Without the last click."""
        self._off = self._under_way().taken_back()
        self._write()

    def ask(self, key: str) -> None:
        """One question again."""
        if key not in BY_KEY:
            raise Refusal(f"given {key}, allowed: {', '.join(BY_KEY)}")
        self._off = self._under_way().asked(key)

    def met(self, x: float, y: float, radius_px: float) -> dict[str, Any]:
        """Where a click would come to."""
        self._laid()
        off = self._off
        kind = off.question if off and not off.done else BY_KEY["ridge"]  # a corner
        if kind.kind == "inside":
            return {"x": x, "y": y, "on_x": False, "on_y": False}
        mark = snapped(kind, x, y, self._picture, radius_px)
        return {"x": mark.x, "y": mark.y, "on_x": mark.on_x, "on_y": mark.on_y}

    def _write(self) -> None:
        """Put what the clicks give into the design as drawn."""
        hand = self._hand()
        name = hand.designs[0]
        found = self._sizes()
        changes: dict[FieldPath, Any] = dict(found.changes)
        if (front := front_of(self._under_way())) and "eaves" in self._under_way().marks:
            changes["drawing",] = self._as_scene_has_it(front)
        if changes:
            hand.set_fields(changes, name, said="taken off the drawing")
        self._gave_way = ()
        if self._under_way().done and hand.fault is None:
            text, self._gave_way = standing_alternatives(hand.path, hand.text)
            if self._gave_way:
                hand.replace_text(text)

    def _sizes(self) -> Sizes:
        return sizes(self._under_way(), self._design())

    def _design(self) -> Design:
        hand = self._hand()
        return hand.design(hand.designs[0])

    def _as_scene_has_it(self, front: Front) -> dict[str, Any]:
        """The drawing with two points of it that are known: left on the ground, right at the
        eaves. A pixel is named by its upper left corner, and known by its middle.
        """
        off, sheet = self._under_way(), self._laid()
        units = self._hand().reading.loaded.scene.units
        left, right = sorted(off.marks["corners"][:2], key=lambda mark: mark.x)
        half, top = front.along(right.x), front.above(off.marks["eaves"][0].y)
        places = (
            (left.x, off.marks["ground"][0].y, -half, 0.0),
            (right.x, off.marks["eaves"][0].y, half, top),
        )
        return {
            "image": self._kept(),
            "points": [
                {
                    "pixel": [round(px / sheet.shrunk - 0.5, 2) for px in (x, y)],
                    "along": format_length(along, units),
                    "height": format_length(above, units),
                }
                for x, y, along, above in places
            ],
        }

    def _kept(self) -> str:
        """The drawing's file beside the scene, written there if it is not yet."""
        sheet = self._laid()
        if not sheet.file:
            data = _png(sheet.image)
            digest = hashlib.blake2b(data, digest_size=4).hexdigest()
            path = self._hand().path
            sheet.file = f"{path.stem}_drawing_{digest}.png"
            target = path.with_name(sheet.file)
            if not target.exists():
                write_users_own(target, data)
        return sheet.file

    # --- what stands ----------------------------------------------------------------------------

    def png(self) -> bytes:
        """The drawing as a picture."""
        return _png(self._laid().image)

    def said(self) -> dict[str, Any]:
        """How far it has come, as plain values; places are pixels of the drawing."""
        sheet, off = self._sheet, self._off
        hand = self._hand()
        said: dict[str, Any] = {"open": sheet is not None, "scenes": self._names_one()}
        if sheet is None:
            return said
        units = hand.reading.loaded.scene.units
        said |= {
            "name": sheet.name,
            "page": sheet.page,
            "pages": sheet.pages,
            "width": sheet.image.width,
            "height": sheet.image.height,
            "seen": sheet.seen,
            "scaled": off is not None,
            "scale": self._scale_words(units),
        }
        if off is None:
            return said
        found = self._sizes()
        by_key: dict[str, list[dict[str, str]]] = {}
        for each in found.readings:
            key = each.key if each.key in BY_KEY else "others 1"
            measured = "" if each.measured_m is None else format_length(each.measured_m, units)
            row = {"words": each.words, "written": each.written, "measured": measured}
            by_key.setdefault(key, []).append(row)
        asked = None if off.done else off.question.key
        return said | {
            "done": off.done,
            "asked": asked,
            "asks": "" if off.done else off.asks,
            "kind": off.question.kind,
            "may_pass": not off.done and _may_pass(off),
            "pass_words": _pass_words(off),
            "number": sum(q.key in off.marks for q in QUESTIONS[: off.at]) + 1,
            "marks": {k: [[m.x, m.y, m.on_x, m.on_y] for m in v] for k, v in off.marks.items()},
            "boxes": {
                k: off.box(k) for k in ("column", *_windows()) if len(off.marks.get(k, ())) >= 2
            },
            "list": [
                {
                    "key": q.key,
                    "words": q.words,
                    "state": _state(off, q.key, asked),
                    "readings": by_key.get(q.key, []),
                }
                for q in QUESTIONS
                if q.key in off.marks or q.key == asked or not q.key.endswith(("2", "3"))
            ],
            "deviations": self._deviations(off, units),
            "front": self._front(off),
            "said": [*found.said, *self._gave_way],
        }

    def _names_one(self) -> bool:
        return self._hand().reading.loaded.scene.drawing is not None

    def _scale_words(self, units: str) -> str:
        off = self._off
        if off is None:
            return ""
        size = off.metres_per_pixel / (INCH_M if units == "feet" else 0.001)
        words = f"a pixel is {size:.3g} {'in' if units == 'feet' else 'mm'}"
        misses = self._scale.misses_m if self._scale else ()
        if len(misses) > 1:
            most = format_length(max(abs(miss) for miss in misses), units)
            words += f"; the known lengths agree within {most}"
        elif not misses and self._own_scale is not None:
            words += ", by the drawing itself"
        return words

    def _deviations(self, off: TakeOff, units: str) -> list[dict[str, Any]]:
        return [
            {
                "key": each.key,
                "words": each.words,
                "way": each.way,
                "clicked": each.clicked_px,
                "model": each.model_px,
                "low": each.low_px,
                "high": each.high_px,
                "written": each.written(units),
                "slight": each.slight,
            }
            for each in deviations(off, self._design())
        ]

    def _front(self, off: TakeOff) -> str:
        """The model's front as an SVG path over the drawing."""
        front = front_of(off)
        if front is None:
            return ""
        lines = front_lines(self._design())
        return "".join(
            f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}"
            for (x0, y0), (x1, y1) in ((front.pixel(*a), front.pixel(*b)) for a, b in lines)
        )

    # --- kept until saved -------------------------------------------------------------------------

    def plain(self) -> dict[str, Any] | None:
        """What is under way, to be kept; None where there is nothing."""
        if self._off is None or self._off.done or not self._off.marks:
            return None
        return {"file": self._kept(), "off": self._off.plain()}

    def take_up(self, kept: Mapping[str, Any]) -> None:
        """Go on with what was kept; nothing is there if it cannot be used any more."""
        try:
            file = str(kept["file"])
            off = TakeOff.of_plain(kept["off"])
            data = read_bounded(given_path(self._hand().path.parent, file), MOST_BYTES)
            found = opened(data)
        except (OSError, ValueError, TypeError, KeyError):
            return
        self._lay(Path(file).name, found, 1, b"")
        assert self._sheet is not None
        self._sheet.file, self._sheet.shrunk = file, _shrunk(data, found)
        self._off = off

    def _laid(self) -> _Sheet:
        if self._sheet is None:
            raise Refusal("no drawing is open")
        return self._sheet

    def _under_way(self) -> TakeOff:
        self._laid()
        if self._off is None:
            raise Refusal("the drawing has no scale yet: click two points and say how far apart")
        return self._off


@lru_cache(maxsize=2)
def front_lines(design: Design) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """What is seen of a design's edges from the front, quickly and without the roof's pieces:
    ends along and above, metres.
    """
    parts = [part for part in build(design.unlaid).parts if not part.within("setting")]
    found = visible_lines(parts, step_m=FRONT_STEP_M)
    return [((a[0], a[1]), (b[0], b[1])) for a, b in found.ends.tolist()]


def _png(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def _shrunk(data: bytes, found: Opened) -> float:
    """How much smaller than its file a picture was opened."""
    from PIL import Image, ImageOps

    with Image.open(io.BytesIO(data)) as image:
        turned = ImageOps.exif_transpose(image)
        return found.image.width / turned.width


def _windows() -> list[str]:
    return [key for key in BY_KEY if key.startswith("window ")]


def _may_pass(off: TakeOff) -> bool:
    question = off.question
    known = off.marks.get(question.key, ())
    return question.may_lack or question.clicks is None or len(known) >= question.clicks


def _pass_words(off: TakeOff) -> str:
    question = off.question
    if question.kind == "inside":
        return "These are all"
    return (
        "These are all" if question.clicks is None and off.marks.get(question.key) else "Not drawn"
    )


def _state(off: TakeOff, key: str, asked: str | None) -> str:
    if key == asked:
        return "now"
    if key not in off.marks:
        return "waits"
    return "done" if off.marks[key] else "lacks"
