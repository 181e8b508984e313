"""Each refusal by its field, and the limits that it says, worked by hand beside the table."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from massing.scene.errors import DesignError
from tests.resolve.test_design import design

pytestmark = pytest.mark.usefixtures("rules_hold")

ROWS = yaml.safe_load(Path(__file__).with_name("refused_figures.yaml").read_text())
FIGURE = re.compile(r"-?\d[\d./]*(?: (?:mm|m|in)\b|:12)?")


def figures(text: str) -> str:
    return " ".join(FIGURE.findall(text))


@pytest.mark.parametrize("row", ROWS, ids=[f"{k} {row['field']}" for k, row in enumerate(ROWS)])
def test_a_refusal_says_its_limit(row: dict[str, Any]) -> None:
    scene = {"units": "metric", **row["scene"]}
    with pytest.raises(DesignError) as refused:
        design(scene.pop("house", None), **scene)
    assert refused.value.field == row["field"]
    assert figures(refused.value.given) == row["given"]
    assert figures(refused.value.allowed) == row["allowed"]
