"""What is told of each field: from the spec, the rules and the bundled scenes, and nothing else."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import pytest
from pydantic import TypeAdapter
from pydantic.fields import FieldInfo
from ruamel.yaml import YAML

from massing.cli import main
from massing.cli.demo import HERE
from massing.cli.explain import bundled
from massing.edit.scene_field import spec_fields
from massing.practice.defaults import said_default
from massing.scene.load import load_scene
from massing.scene.spec import Scene
from massing.study.reference import Entry, entries, explained, fields_page, found

PAGE = Path(__file__).parents[2] / "scenes" / "FIELDS.md"


@pytest.fixture(scope="module")
def every() -> dict[str, Entry]:
    return entries(bundled())


def info_of(name: str) -> FieldInfo:
    model: Any = Scene
    *groups, last = name.replace("[]", "").split(".")
    for step in groups:
        model = next(
            kind
            for kind in _models(model.model_fields[step].annotation)
            if hasattr(kind, "model_fields")
        )
    return model.model_fields[last]


def _models(annotation: Any) -> list[Any]:
    inner = getattr(annotation, "__args__", ())
    return [annotation] if not inner else [m for each in inner for m in _models(each)]


def test_every_field_says_what_it_is_and_what_holds_where_it_is_left_out(every) -> None:
    assert set(every) == dict(spec_fields(Scene)).keys()
    for entry in every.values():
        assert entry.field.description
        assert entry.left_out or not entry.field.optional
        assert next(explained(entry, every)).startswith(f"{entry.name}: ")


def test_every_example_is_one_that_the_field_takes(every) -> None:
    for name, entry in every.items():
        if not entry.example:
            assert entry.holds, name
            continue
        value = YAML(typ="safe", pure=True).load(entry.example)
        for step in name.split("."):
            value = value[step.removesuffix("[]")]
            value = value[0] if step.endswith("[]") else value
        if entry.holds or name == "alternatives":
            continue  # what they hold is tried field by field
        info = info_of(name)
        TypeAdapter(Annotated[info.annotation, *info.metadata, "its own"]).validate_python(value)


def test_a_rule_is_the_book_s(every) -> None:
    assert said_default("steps.tread") in every["porch.steps.tread"].left_out
    assert every["porch.columns"].left_out == "4"
    assert every["house.door"].left_out == "as its fields say"
    assert every["porch.guard"].left_out == "none"
    assert every["roof.lower_pitch"].waits_for == "roof.form: gambrel"


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("porch.depth", "porch.depth"),
        ("house.windows[2].sill", "house.windows[].sill"),
        ("entasis", "porch.entasis"),
        ("stories", "house.storeys"),
        ("intercolumniation", "porch.spacing"),
        ("lower pitch", "roof.lower_pitch"),
        ("entassis", "porch.entasis"),
    ],
)
def test_a_field_is_found_by_what_a_designer_calls_it(every, words, name) -> None:
    assert name in [entry.name for entry in found(every, words)]


def test_nothing_is_found_by_nonsense(every) -> None:
    assert found(every, "xyzzy plugh") == []


def test_the_page_in_the_repository_is_the_one_that_is_made(every) -> None:
    assert PAGE.read_text(encoding="utf-8") == fields_page(every), (
        "massing explain --all -o scenes/FIELDS.md makes it again"
    )


def test_the_command_explains_lists_and_refuses(capsys) -> None:
    assert main(["explain", "porch.depth"]) == 0
    assert "Wall face to column axis" in capsys.readouterr().out
    assert main(["explain", "sill"]) == 0
    assert len(capsys.readouterr().out.splitlines()) > 2
    assert main(["explain", "xyzzy"]) == 2
    assert capsys.readouterr().err.startswith("FIELD: given xyzzy, allowed: ")


def test_a_bundled_scene_is_written_with_its_drawing_and_nothing_is_replaced(
    tmp_path, capsys
) -> None:
    assert main(["demo", "-o", str(tmp_path / "try")]) == 0
    scene = tmp_path / "try" / "marsh_road.yaml"
    assert main(["check", str(scene), "-q"]) == 0
    assert load_scene(scene).scene.drawing is not None
    assert (tmp_path / "try" / "drawings" / "marsh_road_front.png").is_file()
    capsys.readouterr()
    assert main(["demo", "-o", str(tmp_path / "try")]) == 2
    assert "it stands already" in capsys.readouterr().err


def test_every_bundled_scene_is_in_the_package_letter_for_letter() -> None:
    texts = {path.name: path.read_bytes() for path in PAGE.parent.glob("*.yaml")}
    assert {path.name: path.read_bytes() for path in HERE.glob("*.yaml")} == texts


def test_a_scene_may_be_piped_in(monkeypatch, capsys) -> None:
    import io
    import sys
    from types import SimpleNamespace

    from massing.scene import text as reading

    text = (PAGE.parent / "vineyard_cottage.yaml").read_bytes()
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(text)))
    reading._standard_input.cache_clear()
    assert main(["figures", "-", "--format", "csv"]) == 0
    assert "slenderness" in capsys.readouterr().out
    reading._standard_input.cache_clear()
