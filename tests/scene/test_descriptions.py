"""Every field of the scene says what it is."""

from __future__ import annotations

import inspect

import pytest
from pydantic import BaseModel

from massing.scene import spec

MODELS = sorted(
    {
        kind
        for _, kind in inspect.getmembers(spec, inspect.isclass)
        if issubclass(kind, BaseModel) and kind is not BaseModel
    },
    key=lambda kind: kind.__name__,
)


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_every_field_has_a_description(model: type[BaseModel]) -> None:
    bare = [name for name, info in model.model_fields.items() if not info.description]
    assert not bare
