"""The scene file's JSON Schema, so that editors complete and check what is typed."""

from __future__ import annotations

import copy
from typing import Any

from massing.scene.spec import Alterable, Scene

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_CHANGE = "Change"


def scene_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a scene file.

    An alternative's fields are those of the design as drawn, none required, each also
    ``null`` for its default.
    """
    schema = Scene.model_json_schema()
    definitions = schema["$defs"]
    for name, definition in list(definitions.items()):
        if definition.get("type") == "object":
            definitions[name + _CHANGE] = _optional(definition, definitions)
    fields = {name: schema["properties"][name] for name in Alterable.model_fields}
    change = {"type": "object", "additionalProperties": False, "properties": fields}
    schema["properties"]["alternatives"] = {
        "type": "object",
        "title": "Alternatives",
        "description": "A name for each alternative, and only what it changes",
        "additionalProperties": _optional(change, definitions),
    }
    return {"$schema": DIALECT, **schema, "title": "Scene"}


def _optional(definition: dict[str, Any], definitions: dict[str, Any]) -> dict[str, Any]:
    """A group of fields with none required, each also null, and its inner groups likewise."""
    loose: dict[str, Any] = copy.deepcopy(definition)
    loose.pop("required", None)
    for name, field in loose["properties"].items():
        field.pop("default", None)
        inner = _redirected(field, definitions)
        kinds = inner.pop("anyOf", None)
        if kinds is None:
            kept = {k: inner.pop(k) for k in ("title", "description") if k in inner}
            loose["properties"][name] = {**kept, "anyOf": [inner, {"type": "null"}]}
        elif {"type": "null"} in kinds:
            loose["properties"][name] = {**inner, "anyOf": kinds}
        else:
            loose["properties"][name] = {**inner, "anyOf": [*kinds, {"type": "null"}]}
    return loose


def _redirected(node: Any, definitions: dict[str, Any]) -> Any:
    """The node with references to groups pointing at their loose forms (lists keep theirs)."""
    if isinstance(node, dict):
        if "$ref" in node:
            name = node["$ref"].rsplit("/", 1)[1]
            if definitions.get(name, {}).get("type") == "object" and not name.endswith(_CHANGE):
                return {**node, "$ref": f"#/$defs/{name}{_CHANGE}"}
            return node
        return {
            key: value if key == "items" else _redirected(value, definitions)
            for key, value in node.items()
        }
    if isinstance(node, list):
        return [_redirected(item, definitions) for item in node]
    return node
