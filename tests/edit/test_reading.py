"""What is made anew when a scene's text changes, and what stands as it was."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.edit.reading import Reading
from massing.edit.writing import set_field
from massing.geometry.mesh import Mesh
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field

ROOT = Path(__file__).parents[2]


def changed(scene: str, field: str, value: str, design: str | None = None) -> Reading:
    path = ROOT / "scenes" / f"{scene}.yaml"
    text = path.read_text(encoding="utf-8")
    return Reading(path, set_field(text, parse_field(field), value, design))


def meshes(read: Reading, design: str | None = None) -> dict[str, Mesh]:
    return {part.key: part.mesh for part in read.model(design or read.drawn).parts}


def test_a_porch_s_depth_leaves_bricks_and_shafts_as_they_stand() -> None:
    """Of a brick house between wings: the same meshes, not others like them."""
    one, other = (meshes(changed("foundry_lane", "porch.depth", d)) for d in ("9 ft", "9'-2\""))
    kept = [key for key in one if "brick" in key or key.startswith("porch/column/")]
    assert len([key for key in kept if "bricks/cut" in key]) >= 8
    assert "porch/column/shaft" in kept
    assert [key for key in kept if one[key] is not other[key]] == []
    assert one["porch/floor/base"] is not other["porch/floor/base"]


def test_a_balustrade_s_height_leaves_the_order_under_it_as_it_stands() -> None:
    name = "Six Doric columns"
    one, other = (
        meshes(changed("marsh_road", "porch.balustrade.height", h, name), name)
        for h in ("3'-6\"", "3'-7\"")
    )
    under = ("porch/column", "porch/entablature", "porch/ceiling", "house/")
    kept = [key for key in one if key.startswith(under)]
    assert len(kept) > 30
    assert [key for key in kept if one[key] is not other[key]] == []
    rail = [key for key in one if key.startswith("porch/balustrade/balusters")]
    assert rail
    assert all(one[key] is not other[key] for key in rail)


def test_coverings_are_as_before_where_nothing_they_are_cut_to_has_changed() -> None:
    name = "Six Doric columns"
    drawn = changed("marsh_road", "porch.depth", "10 ft", name)
    deeper = changed("marsh_road", "porch.depth", "11 ft", name)
    higher = changed("marsh_road", "porch.entablature", "5 ft", name)
    assert deeper.covered_as(name, drawn)
    assert not higher.covered_as(name, drawn)
    assert not deeper.covered_as(name, changed("vineyard_cottage", "porch.depth", "2 m"))
    bricks = changed("foundry_lane", "porch.depth", "9 ft")
    wider = changed("foundry_lane", "porch.diameter", "16 in")
    assert not wider.covered_as(wider.drawn, bricks)
    with pytest.raises(SceneError):
        changed("marsh_road", "porch.depth", "1 in").covered_as(drawn.drawn, drawn)
