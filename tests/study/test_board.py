"""The board's own work: which pictures it takes, and what it says of bad input."""

from __future__ import annotations

import errno
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from massing.cli import main
from massing.files import sole_use, write_by
from massing.practice.cautions import CAUTION
from massing.present.board import light_pages, maker
from massing.present.board.elevation import Drawn, Window
from massing.render.driver import requirements
from massing.scene.errors import SceneError
from massing.study import board
from massing.study.board import check_board, make_board
from massing.study.pictures import pictures
from massing.study.run import Outcome
from massing.study.study import Study, read_study

SCENE = """\
title: House by the ford
units: metric
site: {place: Swellendam, latitude: -34.02, longitude: 20.44, front_faces: N}
times: [summer solstice 13:00, equinox 10:30]
views: [elevation]
looks: [clay]
house:
  width: 12 m
  depth: 8 m
  storeys: [4.45 m]
  bays: 3
  windows: [{width: 1 m, height: 1.5 m, sill: 0.5 m}]
porch: {columns: 4, diameter: 160 mm, entablature: 200 mm, height: 3.1 m, spacing: 2.4 m}
roof: {covering: plain}
alternatives:
  Tuscan:
    porch: {order: tuscan, diameter: null, entablature: null}
"""


@pytest.fixture
def scene(tmp_path: Path) -> Callable[[str], Path]:
    def write(more: str = "") -> Path:
        path = tmp_path / "ford.yaml"
        path.write_text(SCENE + more, encoding="utf-8")
        return path

    return write


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """Pictures made without a renderer, and drawings without lines; what was asked for."""
    seen: dict[str, Any] = {"failed": {}}

    def run_study(study: Study, folder: Path, **options: Any) -> Outcome:
        seen.update(options)
        made = []
        for picture in pictures(study, options["quality"], options["size_px"]):
            wanted = (picture.sun.label, picture.view, picture.look)
            if all(word in options["only"] for word in wanted):
                path = folder / picture.path
                with sole_use(folder, lambda: None):
                    write_by(path, Image.new("RGB", (320, 200), (120, 150, 190)).save)
                made.append(picture.path)
        return Outcome(folder, tuple(made), (), seen["failed"])

    class Plain:
        def __init__(self, model: object) -> None:
            self.model = model

        def drawn(self, window: Window, scale: float, *_: object, **__: object) -> Drawn:
            svg = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"></svg>'
            wide, tall = (1000.0 * m / scale for m in (window.width_m, window.height_m))
            return Drawn(svg, wide, tall, scale)

    monkeypatch.setattr(board, "run_study", run_study)
    monkeypatch.setattr(maker, "Front", Plain)
    monkeypatch.setattr(light_pages, "_STEP_MIN", 60)
    monkeypatch.setattr(requirements, "check_blender", lambda: "")
    return seen


def test_it_asks_for_its_own_views_whatever_the_scene_asks_for(
    scene: Callable[[str], Path], asked: dict[str, Any], tmp_path: Path
) -> None:
    study = read_study(scene(""))
    made = make_board(study, tmp_path / "pictures", tmp_path / "out" / "ford.pdf", quality="draft")
    # the equinox shows the cornice best, and the scene's one look is clay
    assert asked["only"] == ["equinox 10:30", "street", "close-up", "clay"]
    assert sorted(Path(name).name for name in made.made) == [
        "close-up_equinox-10-30_clay.png",
        "close-up_equinox-10-30_clay.png",
        "street_equinox-10-30_clay.png",
        "street_equinox-10-30_clay.png",
    ]
    assert made.path.read_bytes().startswith(b"%PDF")
    assert made.pages == 6
    assert study.loaded.scene.views == ["elevation"]  # the scene is as it was


def test_a_picture_that_failed_leaves_no_pdf(
    scene: Callable[[str], Path], asked: dict[str, Any], tmp_path: Path
) -> None:
    asked["failed"] = {"tuscan/street_equinox-10-30_clay.png": "the renderer ran out of memory"}
    made = make_board(read_study(scene("")), tmp_path / "pictures", tmp_path / "ford.pdf")
    assert made.failed == asked["failed"]
    assert not (tmp_path / "ford.pdf").exists()


@pytest.mark.parametrize(
    ("name", "content", "line"),
    [
        ("mark.png", None, "sheet.logo: given mark.png, no such file, allowed: "),
        ("mark.png", b"not a picture", "sheet.logo: given mark.png, which cannot be read"),
        ("mark.svg", None, "sheet.logo: given mark.svg, no such file, allowed: an SVG drawing"),
        ("mark.svg", b"<html>", "sheet.logo: given mark.svg, which cannot be printed"),
        ("mark.svg", b'<svg ><image href="/etc/x"/></svg>', "mark.svg, which cannot be printed"),
        ("mark.svg", b"<!ENTITY a 'b'><svg ></svg>", "mark.svg, which cannot be printed"),
        ("mark.svg", b"<svg >" + b" " * 3_000_000, "sheet.logo: given mark.svg, more than"),
    ],
)
def test_a_logo_that_cannot_be_used_is_one_line(
    scene: Callable[[str], Path], tmp_path: Path, name: str, content: bytes | None, line: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    study = read_study(scene(f"sheet:\n  logo: {name}\n"))
    with pytest.raises(SceneError) as fault:
        check_board(study)
    said = str(fault.value)
    assert line in said
    assert "ford.yaml:" in said  # with the line of the field
    assert "\n" not in said


def test_logos_that_can_be_printed_are_read(scene: Callable[[str], Path], tmp_path: Path) -> None:
    Image.new("RGB", (3000, 500), (120, 40, 20)).save(tmp_path / "mark.jpg")
    (tmp_path / "mark.svg").write_bytes(b'<svg xmlns="http://www.w3.org/2000/svg"></svg>')
    raster = board.read_logo(read_study(scene("sheet: {logo: mark.jpg}\n")).loaded)
    assert raster is not None
    ending, content = raster
    with Image.open(io.BytesIO(content)) as image:
        assert (ending, image.format, image.size) == (".png", "PNG", (1200, 200))
    found = board.read_logo(read_study(scene("sheet: {logo: mark.svg}\n")).loaded)
    assert found == (".svg", (tmp_path / "mark.svg").read_bytes())
    assert board.read_logo(read_study(scene("")).loaded) is None


def test_a_builders_drawing_that_is_missing_is_one_line(scene: Callable[[str], Path]) -> None:
    more = "drawing: {image: none.png, height: {foot: [1, 90], top: [1, 9], length: 4 m}}\n"
    with pytest.raises(SceneError, match=r"drawing\.image: given none\.png, no such file"):
        check_board(read_study(scene(more)))


def test_a_full_disk_is_one_line_and_leaves_nothing(
    scene: Callable[[str], Path],
    asked: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def full(path: Path, content: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(path))

    monkeypatch.setattr(board, "write_whole", full)
    monkeypatch.chdir(tmp_path)
    assert main(["board", str(scene("")), "--draft", "--out", "ford.pdf"]) == 1
    said = capsys.readouterr().err.strip()
    assert "No space left on device" in said
    assert "\n" not in said
    assert not (tmp_path / "ford.pdf").exists()


def test_the_command_says_what_it_made(
    scene: Callable[[str], Path],
    asked: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["board", str(scene("")), "--draft", "--paper", "A3"]) == 0
    said = capsys.readouterr().out
    assert "6 pages: renders/ford/board.pdf" in said
    assert CAUTION in " ".join(said.split())
    assert (tmp_path / "renders" / "ford" / "board.pdf").is_file()
    assert asked["quality"] == "draft"


def test_a_study_lays_out_a_board_too_where_asked(
    scene: Callable[[str], Path],
    asked: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    kinds: list[Any] = []

    def run_study(study: Study, folder: Path, **options: Any) -> Outcome:
        kinds.append(options["also"])
        return Outcome(folder, (), (), {})

    monkeypatch.setattr("massing.study.run.run_study", run_study)
    monkeypatch.chdir(tmp_path)
    assert main(["study", str(scene("")), "--also", "jpg", "--also", "board"]) == 0
    assert kinds == [["jpg"]]
    assert "6 pages: renders/ford/board.pdf" in capsys.readouterr().out
    assert (tmp_path / "renders" / "ford" / "board.pdf").read_bytes().startswith(b"%PDF")
    logo = scene("sheet: {logo: none.png}\n")
    assert main(["study", str(logo), "--also", "board"]) == 2
    assert "sheet.logo: given none.png, no such file" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["--out", "ford.png"], "--out: given ford.png, allowed: a name in .pdf"),
        (["--design", "Ionic"], "--design: given Ionic, allowed: as drawn, Tuscan"),
        (
            ["--design", "as drawn"],
            "--design: given as drawn, allowed: an alternative, to stand beside the design as "
            "drawn",
        ),
    ],
)
def test_arguments_that_cannot_be_used_are_one_line(
    scene: Callable[[str], Path],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    line: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["board", str(scene("")), *arguments]) == 2
    said = capsys.readouterr().err.strip()
    assert said == line
    assert not (tmp_path / "renders").exists()
