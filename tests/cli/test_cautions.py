"""The one caution stands wherever sizes, figures and pictures are given out."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from massing.cli import main
from massing.cli.program import COMMANDS
from massing.practice.cautions import CAUTION
from massing.present.models import FORMATS
from massing.present.reports.shadow_tables import moments_csv, shadows_json
from massing.present.sheets.strips import captioned
from massing.study.pictures import pictures, shot_of
from massing.study.run import Outcome
from massing.study.series import SeriesOutcome
from massing.study.study import read_study
from tests.cli.test_shared import SCENE

# Commands that give out no size: they begin a file, print a form, or list what is carried along.
WITHOUT_SIZES = {"completion", "demo", "new", "schema", "licences"}
# Those that are run here, or whose writers are asked here.
HERE = set("check explain show figures sizes plate overlay study series model page shadows".split())
HERE.add("profiles")
# Those whose files are opened by tests of their own, and looked through for it.
ELSEWHERE = {
    "board": "study/test_board.py",
    "desk": "cli/desk/test_desk.py",
    "drawings": "present/drawings/test_drawing_set.py",
    "montage": "render/test_montage.py",
    "propose": "cli/test_propose.py",
    "watch": "cli/test_watch.py",
}


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "scene.yaml").write_text(SCENE)
    drawing = "drawing: {image: d.png, height: {foot: [50, 90], top: [50, 10], length: 8 m}}\n"
    (tmp_path / "drawn.yaml").write_text(SCENE + drawing)
    Image.new("RGB", (200, 100), "white").save(tmp_path / "d.png")

    def run(*arguments):
        assert main([str(a) for a in arguments]) == 0
        return capsys.readouterr().out

    return run


def said(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "scene.yaml"),
        ("explain", "porch.steps.riser"),
        ("explain", "--all"),
        ("show", "scene.yaml"),
        ("figures", "scene.yaml"),
        ("figures", "scene.yaml", "--format", "csv"),
        ("figures", "scene.yaml", "--format", "json"),
        ("sizes", "scene.yaml"),
        ("sizes", "scene.yaml", "--format", "csv"),
    ],
    ids=" ".join,
)
def test_what_is_printed_ends_or_begins_with_it(run, arguments):
    assert CAUTION in said(run(*arguments))


def test_a_table_begins_with_it_and_json_has_a_field_of_it(run):
    for command in ("figures", "sizes"):
        first = run(command, "scene.yaml", "--format", "csv").splitlines()[0]
        assert first == f"# {CAUTION}"
    assert json.loads(run("figures", "scene.yaml", "--format", "json"))["caution"] == CAUTION


@pytest.mark.parametrize("ending", ["svg", "png", "pdf"])
def test_a_plate_carries_it(run, ending):
    run("plate", "tuscan", "--out", f"plate.{ending}")
    path = Path(f"plate.{ending}")
    if ending == "png":
        assert Image.open(path).info["Disclaimer"] == CAUTION
    else:
        assert CAUTION.encode() in path.read_bytes()


def carries(path: Path) -> bool:
    """Whether a file holds the caution where who opens it meets it, by its kind."""
    match path.suffix:
        case ".png":
            return Image.open(path).info["Disclaimer"] == CAUTION
        case ".pdf":
            document = pypdfium2.PdfDocument(path)
            pages = [document[i].get_textpage().get_text_range() for i in range(len(document))]
            of = document.get_metadata_dict()["Subject"]
            return of == CAUTION and all(CAUTION in said(page) for page in pages)
        case ".xlsx":
            parts = zipfile.ZipFile(path)
            sheets = [n for n in parts.namelist() if n.endswith(("sheet1.xml", "sheet2.xml"))]
            return len(sheets) == 2 and all(CAUTION in parts.read(n).decode() for n in sheets)
    return CAUTION in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "endings"),
    [
        (("profiles", "scene.yaml", "--design", "Tall Tuscan"), {".dxf", ".pdf"}),
        (("sizes", "scene.yaml", "-o", "out/sizes.xlsx"), {".xlsx"}),
    ],
    ids=lambda value: value[0] if isinstance(value, tuple) else "",
)
def test_every_file_that_a_command_writes_carries_it(run, arguments, endings):
    Path("out").mkdir()
    run(*arguments)
    folders = [Path("out"), Path("renders")]
    made = [p for folder in folders for p in folder.rglob("[!.]*") if p.is_file()]
    assert {path.suffix for path in made} == endings
    assert [path for path in made if not carries(path)] == []


def test_what_is_printed_in_plastic_begins_with_it(run):
    run("model", "scene.yaml", "--out", "model.stl")
    assert Path("model.stl").read_bytes().startswith(CAUTION.partition(":")[0].encode())


def test_every_kind_of_model_is_asked():
    assert set(FORMATS) == {"glb", "usd", "obj", "stl"}


@pytest.mark.parametrize("ending", ["glb", "usd", "obj"])
def test_a_model_says_it_and_carries_it(run, ending):
    path = f"model.{ending}"
    assert CAUTION in said(run("model", "scene.yaml", "--format", ending, "--out", path))
    if ending == "usd":
        from pxr import Usd

        assert Usd.Stage.Open(path).GetRootLayer().comment == CAUTION
    else:
        assert CAUTION.encode() in Path(path).read_bytes()


def test_a_page_says_it_and_carries_it(run):
    assert CAUTION in said(run("page", "scene.yaml", "--out", "page.html"))
    assert f"<p>{CAUTION}</p>" in Path("page.html").read_text(encoding="utf-8")


def test_an_overlay_says_it_and_carries_it(run):
    assert CAUTION in said(run("overlay", "drawn.yaml", "--design", "Tall Tuscan"))
    pictures = list(Path("renders").rglob("*.png"))
    assert pictures
    for path in pictures:
        assert Image.open(path).info["Disclaimer"] == CAUTION


def test_a_study_and_a_series_end_with_it(run, monkeypatch, tmp_path):
    monkeypatch.setattr(
        "massing.study.run.run_study", lambda *a, **k: Outcome(tmp_path, (), (), {})
    )
    monkeypatch.setattr(
        "massing.study.series.run_day", lambda *a, **k: SeriesOutcome(tmp_path, (), {})
    )
    for module in ("study", "series"):
        monkeypatch.setattr(f"massing.cli.{module}.require_blender", lambda: None)
    assert CAUTION in said(run("study", "scene.yaml"))
    assert CAUTION in said(run("series", "scene.yaml", "--day", "14 May"))


def test_every_picture_and_every_frame_carries_it(tmp_path):
    (tmp_path / "scene.yaml").write_text(SCENE)
    study = read_study(tmp_path / "scene.yaml")
    study.build()
    picture = pictures(study, "draft")[0]
    assert shot_of(study, picture).metadata["Disclaimer"] == CAUTION
    plain = Image.new("RGB", (520, 300))
    framed = captioned(plain, "", "")
    assert framed.height > plain.height + 2 * 11  # the caption's line, and under it the caution
    under = framed.crop((0, plain.height + 22, framed.width, framed.height)).convert("L")
    assert under.getextrema()[0] < 160


def test_no_command_is_left_out():
    """A command that is new says here, or where its own tests are, how it carries the caution."""
    named = {command.__name__.rpartition(".")[2] for command in COMMANDS}
    assert named == WITHOUT_SIZES | HERE | set(ELSEWHERE)
    for name, path in ELSEWHERE.items():
        assert "CAUTION" in (Path(__file__).parents[1] / path).read_text(encoding="utf-8"), name


def test_tables_of_shadow_carry_it(run):
    assert moments_csv([]).splitlines()[0] == f"# {CAUTION}"
    site = read_study(Path("scene.yaml")).designs[0].site
    assert json.loads(shadows_json(site, [], []))["caution"] == CAUTION
