"""The scene in hand at the desk, kept beside its file until it is saved; answers as plain values.

What is asked for by name (a change, a design, a field) is handed to :mod:`massing.edit`; every
word and number of an answer is the library's.
"""

from __future__ import annotations

import hashlib
import json
import threading
from calendar import isleap
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from massing.cli.desk.plain import day_of, field_of, handle_of, line_of, season_days
from massing.cli.desk.refusal import Refusal
from massing.cli.desk.steps import STEPS
from massing.cli.desk.takeoff import DrawingBoard
from massing.design.design import Design
from massing.edit.handles import dragged_text, handles, snap_m
from massing.edit.session import SceneInHand
from massing.files import write_users_own
from massing.findings.changes import changes
from massing.findings.report import figures, findings
from massing.practice.cautions import CAUTION
from massing.present.page.viewer_data import finishes_json, views_json
from massing.present.words import sun_text
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field
from massing.study.pictures import focus_points
from massing.study.study import Study, read_study
from massing.sun.position import SunTime, sun_times

if TYPE_CHECKING:
    from PIL import Image

    from massing.study.overlay import Fit

KEPT_ENDING = ".unsaved"
VIEWS = ("elevation", "street", "close-up")
FIRST_FIGURES = ("slenderness", "entablature_ratio", "clear_widest", "entablature_height")
SHADOW_FIGURES = ("corona_shadow_", "cornice_shadow_")
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class Desk:
    """One scene in hand, asked by any number of pages, one at a time.

    Every change is written beside the scene's file at once, as ``NAME.yaml.unsaved``, and taken up
    again when the desk is opened after a crash; saving takes it away.
    """

    def __init__(self, path: Path) -> None:
        """Open a scene file.

        Raises:
            SceneError: it cannot be read or built.
        """
        self.lock = threading.RLock()
        self.version = 1
        self.path = path
        self.hand = SceneInHand.open(path)
        self.board = DrawingBoard(lambda: self.hand)
        self.taken_up = self._take_up()

    # --- kept until saved -------------------------------------------------------------------

    @property
    def kept_path(self) -> Path:
        """Where changes that are not saved are kept."""
        return self.hand.path.with_name(self.hand.path.name + KEPT_ENDING)

    def _take_up(self) -> bool:
        try:
            kept = json.loads(self.kept_path.read_text(encoding="utf-8"))
            text, of = kept["text"], kept["of"]
        except (OSError, ValueError, TypeError, KeyError):
            return False
        if of != self.hand.text:
            return False
        found = text != self.hand.text
        if found:
            self.hand.replace_text(text)
        if isinstance(kept.get("board"), dict):
            self.board.take_up(kept["board"])
        return found

    def _keep(self) -> None:
        board = self.board.plain()
        if self.hand.is_edited or board is not None:
            content = {"of": self.hand.written, "text": self.hand.text, "board": board}
            write_users_own(self.kept_path, json.dumps(content, ensure_ascii=False))
        else:
            self.kept_path.unlink(missing_ok=True)

    def mark(self) -> str:
        """A word that is another once something changed: here, in the file, or in its drawing."""
        scene = self.hand.reading.loaded.scene
        files = [self.hand.path]
        if scene.drawing is not None:
            files.append(self.hand.path.parent / scene.drawing.image)
        return "-".join([str(self.version), *map(_stamp, files)])

    # --- what stands ------------------------------------------------------------------------

    def state(self) -> dict[str, Any]:
        """All that is the same for every view of the scene."""
        with self.lock:
            hand = self.hand
            scene = hand.reading.loaded.scene
            fault = hand.fault
            field = hand.fault_field
            site = hand.design().site
            names = self._standing_designs()
            return {
                "version": self.version,
                "mark": self.mark(),
                "file": hand.path.name,
                "title": scene.title,
                "units": scene.units,
                "place": site.place,
                "year": site.year,
                "days": 366 if isleap(site.year) else 365,
                "season_days": season_days(site),
                "shown": hand.shown,
                "designs": [
                    {"name": name, "letter": LETTERS[i % len(LETTERS)], "stands": name in names}
                    for i, name in enumerate(hand.designs)
                ],
                "edited": hand.is_edited,
                "disk": hand.on_disk(),
                "taken_up": self.taken_up,
                "can_undo": hand.can_undo,
                "can_redo": hand.can_redo,
                "last": hand.history[-1] if hand.can_undo else "",
                "fault": fault.detail if fault else "",
                "fault_field": hand.standing(field).field.name if field else "",
                "times": list(scene.times),
                "drawing": self._drawing_stamp(),
                "caution": CAUTION,
            }

    def _drawing_stamp(self) -> str:
        """Another word for another drawing, or another state of its file; "" without one."""
        drawing = self.hand.reading.loaded.scene.drawing
        if drawing is None:
            return ""
        stamp = _stamp(self.hand.path.parent / drawing.image)
        return hashlib.blake2b(f"{stamp} {drawing!r}".encode(), digest_size=8).hexdigest()

    def _standing_designs(self) -> list[str]:
        found = []
        for name in self.hand.designs:
            try:
                self.hand.design(name)
            except SceneError:
                continue
            found.append(name)
        return found

    def finishes(self) -> dict[str, Any]:
        """The finishes of every look by role."""
        return finishes_json()

    def views(self) -> dict[str, Any]:
        """The named views, framed for all designs that can be built together."""
        with self.lock:
            names = self._standing_designs()
            designs = [self.hand.design(name) for name in names]
            # coverings change a frame by an inch and cost more than all else
            bare = tuple(design.unlaid for design in designs)
            study = Study(self.hand.reading.loaded, bare, ())
            try:
                bounds = study.bounds_m
            except SceneError:
                designs = [self.hand.design()]
                bounds = self.hand.model().building_bounds
            ground = designs[0].site.ground
            return views_json(bounds, focus_points(designs), VIEWS, ground)

    def house(self, name: str, have: list[str]) -> bytes:
        """A design's model for the page; see :func:`massing.cli.desk.parcels.parcel`."""
        from massing.cli.desk.parcels import parcel

        with self.lock:
            return parcel(self.hand.model(self._known(name)), have)

    def sheet(self, name: str, day: str, clock: str) -> dict[str, Any]:
        """What is said of a design at an hour: figures, findings, what changed, its lines."""
        with self.lock:
            design = self.hand.design(self._known(name))
            suns = [self._sun(design, day, clock)]
            found = {figure.key: figure for figure in figures(design, suns)}
            first = [key for key in FIRST_FIGURES if key in found]
            first += [key for key in found if key.startswith(SHADOW_FIGURES) and "share" not in key]
            drawn = self.hand.design(self.hand.designs[0])
            return {
                "name": name,
                "figures": [
                    {
                        "key": figure.key,
                        "name": figure.name,
                        "written": figure.written(design.units),
                        "note": figure.note,
                        "first": key in first,
                    }
                    for key, figure in found.items()
                ],
                "findings": [
                    {"severity": f.severity, "text": f.text, "source": f.source}
                    for f in findings(design)
                ],
                "changes": []
                if design is drawn
                else [{"text": c.text, "source": c.source} for c in changes(drawn, design, suns)],
                "handles": [line_of(handle) for handle in handles(design)],
                "handle_y_m": design.porch.column_y_m - design.porch.frieze_half_depth_m,
                "sun": sun_text(suns[0]),
                "caution": CAUTION,
            }

    def drawing(self) -> dict[str, Any]:
        """Where the builder's drawing lies on the front, metres, and how it is asked for.

        Raises:
            Refusal: the scene names none, or one that cannot be used.
        """
        image, fit = self._drawing_sheet()
        left, foot = (-fit.origin_px[0], fit.origin_px[1] - image.height)
        scale = fit.metres_per_pixel
        return {
            "image": "drawing.png",
            "left": scale * left,
            "right": scale * (left + image.width),
            "bottom": scale * foot,
            "top": scale * (foot + image.height),
        }

    def drawing_png(self) -> bytes:
        """The builder's drawing as a picture."""
        import io

        image, _ = self._drawing_sheet()
        out = io.BytesIO()
        image.convert("RGB").save(out, "PNG")
        return out.getvalue()

    def _drawing_sheet(self) -> tuple[Image.Image, Fit]:
        from massing.study.overlay import read_sheet

        with self.lock:
            try:
                sheet = read_sheet(self.hand.reading.loaded)
            except SceneError as fault:
                raise Refusal(fault.detail) from None
        return sheet.image, sheet.fit

    def suns(self, day: str) -> dict[str, Any]:
        """Where the sun stands through a day."""
        from massing.cli.desk.parcels import day_of_suns

        with self.lock:
            site = self.hand.design().site
        return {"day": day, "suns": day_of_suns(site, day_of(day))}

    def fields(self, name: str, search: str) -> list[dict[str, Any]]:
        """How the fields stand in a design, by subject; those that do not apply are left out."""
        with self.lock:
            found = self.hand.fields(search, self._known(name))
        return [field_of(each) for each in found if each.applies and not each.field.grouped]

    def rule(self, name: str, field: str) -> str:
        """What the rule would give for a field."""
        with self.lock:
            return self.hand.rule_value(field, self._known(name))

    def dragged(self, line: Mapping[str, Any], by_m: float, pixel_m: float = 0.0) -> str:
        """The size of a line after a drag on a screen of such pixels, as it would be written."""
        with self.lock:
            design = self.hand.design()
        step = snap_m(design.rounding_m, pixel_m, design.units)
        return dragged_text(handle_of(line), by_m, step, design.units)

    def _known(self, name: str) -> str:
        if name not in self.hand.designs:
            raise Refusal(f"given {name}, allowed: {', '.join(self.hand.designs)}")
        return name

    def _sun(self, design: Design, day: str, clock: str) -> SunTime:
        hour, _, minute = clock.partition(":")
        try:
            on = day_of(day)
            zone = ZoneInfo(design.site.time_zone)
            when = datetime(on.year, on.month, on.day, int(hour), int(minute), tzinfo=zone)
        except ValueError:
            raise Refusal(f"given {day} {clock}, allowed: YYYY-MM-DD and HH:MM") from None
        return sun_times([when], design.site)[0]

    # --- changes ----------------------------------------------------------------------------

    def do(self, what: str, given: Mapping[str, Any]) -> dict[str, Any]:
        """Carry out one change; the state after it.

        Raises:
            Refusal: no such change, or it cannot be done; nothing has changed.
        """
        deed = _DEEDS.get(what)
        if deed is None:
            raise Refusal(f"given {what}, allowed: {', '.join(_DEEDS)}")
        with self.lock:
            try:
                deed(self, given)
                self._keep()
            except SceneError as fault:
                raise Refusal(fault.detail) from None
            except (KeyError, TypeError, ValueError, IndexError) as fault:
                raise Refusal(f"{what}: given {dict(given)}, which cannot be read") from fault
            self.version += 1
            return self.state()

    def take_off(self, what: str, given: Mapping[str, Any]) -> dict[str, Any]:
        """One step of taking sizes off a drawing; how far that has come, and the state after it.

        Raises:
            Refusal: no such step, or it cannot be done.
        """
        step = STEPS.get(what)
        if step is None:
            raise Refusal(f"given {what}, allowed: {', '.join(STEPS)}")
        with self.lock:
            before = self.hand.text
            try:
                step(self.board, given)
            except SceneError as fault:
                raise Refusal(fault.detail) from None
            except (KeyError, TypeError, ValueError, IndexError) as fault:
                raise Refusal(f"{what}: given {dict(given)}, which cannot be read") from fault
            return self._taken_off(before)

    def open_drawing(self, name: str, data: bytes) -> dict[str, Any]:
        """Lay a file on the board; as :meth:`take_off`."""
        with self.lock:
            self.board.open(name, data)
            return self._taken_off(self.hand.text)

    def board_said(self) -> dict[str, Any]:
        """How far taking sizes off has come."""
        with self.lock:
            return self.board.said()

    def board_png(self) -> bytes:
        """The drawing that lies on the board, as a picture."""
        with self.lock:
            return self.board.png()

    def met(self, x: float, y: float, radius_px: float) -> dict[str, Any]:
        """Where a click on the board would come to."""
        with self.lock:
            return self.board.met(x, y, radius_px)

    def _taken_off(self, before: str) -> dict[str, Any]:
        if self.hand.text != before and self.hand.shown != self.hand.designs[0]:
            self.hand.show(self.hand.designs[0])
        self._keep()
        self.version += 1
        return {"board": self.board.said(), "state": self.state()}

    def put(self, name: str, write: Callable[[str], str]) -> dict[str, Any]:
        """Write an alternative of that name into the text in hand and show it; the state after it.

        Raises:
            Refusal: there is one of that name, or the text would be at fault; nothing has changed.
        """
        with self.lock:
            if name in self.hand.designs:
                raise Refusal(f"{name} is one of the designs already")
            try:
                self.hand.replace_text(write(self.hand.text))
                if self.hand.fault is not None:
                    fault = self.hand.fault
                    self.hand.undo()
                    raise fault
                self.hand.show(name)
                self._keep()
            except SceneError as fault:
                raise Refusal(fault.detail) from None
            self.version += 1
            return self.state()

    def _set(self, given: Mapping[str, Any]) -> None:
        stroke = str(given.get("stroke", ""))
        self.hand.type_in(str(given["field"]), str(given["text"]), given.get("name"), stroke=stroke)

    def _drag(self, given: Mapping[str, Any]) -> None:
        size = self.dragged(given["line"], float(given["by_m"]), float(given.get("pixel_m", 0.0)))
        stroke = str(given.get("stroke", ""))
        self.hand.set(str(given["line"]["field"]), size, given.get("name"), stroke=stroke)

    def _unset(self, given: Mapping[str, Any]) -> None:
        name = given.get("name")
        field = parse_field(str(given["field"]))
        if given.get("rule") and self.hand.standing(field, name).source == "as drawn":
            self.hand.set(field, None, name)
        else:
            self.hand.unset(field, name)

    def _save(self, given: Mapping[str, Any]) -> None:
        self.hand.save(over=bool(given.get("over", False)))
        self.taken_up = False

    def _discard(self, _given: Mapping[str, Any]) -> None:
        if self.hand.written is not None:
            self.hand.replace_text(self.hand.written)
        self.taken_up = False

    def _text(self, given: Mapping[str, Any]) -> None:
        self.hand.replace_text(str(given["text"]))

    # --- pictures ---------------------------------------------------------------------------

    def study(self) -> Study:
        """The scene as it is in hand, made ready for pictures.

        Raises:
            Refusal: it cannot be.
        """
        with self.lock:
            if self.hand.fault is not None:
                raise Refusal(self.hand.fault.detail)
            try:
                return read_study(self.hand.path, self.hand.text)
            except SceneError as fault:
                raise Refusal(fault.detail) from None


Deed = Callable[[Desk, Mapping[str, Any]], object]
_DEEDS: dict[str, Deed] = {
    "set": Desk._set,
    "drag": Desk._drag,
    "unset": Desk._unset,
    "show": lambda desk, given: desk.hand.show(str(given["name"])),
    "add": lambda desk, given: desk.hand.add_alternative(str(given["name"]), given.get("like")),
    "rename": lambda desk, given: desk.hand.rename_design(str(given["name"]), str(given["new"])),
    "delete": lambda desk, given: desk.hand.delete_alternative(str(given["name"])),
    "order": lambda desk, given: desk.hand.order_alternatives([str(n) for n in given["names"]]),
    "add time": lambda desk, given: desk.hand.add("times", str(given["time"])),
    "text": Desk._text,
    "undo": lambda desk, _given: desk.hand.undo(),
    "redo": lambda desk, _given: desk.hand.redo(),
    "save": Desk._save,
    "discard": Desk._discard,
    "take disk": lambda desk, given: desk.hand.take_disk(lose_edits=bool(given.get("lose_edits"))),
}


def _stamp(path: Path) -> str:
    try:
        found = path.stat()
    except OSError:
        return "none"
    return f"{found.st_mtime_ns:x}.{found.st_size:x}"
