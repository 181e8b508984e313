"""The model as a USD layer, by Pixar's own library: metres, Z up.

Parts stand in scopes by the steps of their names; a prim's name is the step with what USD does
not allow replaced, its display name is the builder's own. Copies are point instancers.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import numpy as np
from pxr import Gf, Sdf, Usd, UsdGeom, UsdShade, Vt

from massing.geometry.copies import rigid_groups
from massing.geometry.creases import shaded
from massing.geometry.mesh import Floats, Mesh
from massing.parts.part import Model, Part
from massing.practice.cautions import CAUTION
from massing.practice.finishes import finish_of, part_role
from massing.present.models.gltf import quaternions


def write_usd(model: Model, path: Path) -> None:
    """Write a model to a ``.usd``, ``.usda`` or ``.usdc`` file."""
    stage = Usd.Stage.CreateNew(str(path))
    UsdGeom.SetStageUpAxis(stage, UsdGeom.Tokens.z)
    UsdGeom.SetStageMetersPerUnit(stage, 1.0)
    root = UsdGeom.Xform.Define(stage, Sdf.Path("/house"))
    root.GetPrim().SetDisplayName(model.name)
    Usd.ModelAPI(root.GetPrim()).SetKind("component")
    stage.SetDefaultPrim(root.GetPrim())
    materials: dict[str, Any] = {}
    for part in model.parts:
        role = part_role(part.role, model.notes)
        if role not in materials:
            materials[role] = _material(stage, root.GetPath(), role)
        _write_part(stage, part, _path_of(stage, root.GetPath(), part), materials[role])
    stage.GetRootLayer().comment = CAUTION
    stage.GetRootLayer().Save()


def _path_of(stage: Any, root: Any, part: Part) -> Any:
    """Where a part's prim goes; the scopes above it are made, each with its display name."""
    *folders, leaf = part.path
    if part.twin > 1:
        leaf = f"{leaf} {part.twin}"
    path = root.AppendChild("parts")
    UsdGeom.Scope.Define(stage, path)
    for step in folders:
        path = path.AppendChild(_identifier(step) + "_")  # a part may bear a scope's name too
        UsdGeom.Scope.Define(stage, path).GetPrim().SetDisplayName(step)
    return path.AppendChild(_identifier(leaf))


def _identifier(step: str) -> str:
    plain = re.sub(r"\W", "_", step, flags=re.ASCII)
    return plain if plain[:1].isalpha() else f"_{plain}"


def _material(stage: Any, root: Any, role: str) -> Any:
    finish = finish_of(role)
    path = root.AppendChild("finishes").AppendChild(_identifier(role))
    material = UsdShade.Material.Define(stage, path)
    material.GetPrim().SetDisplayName(finish.name)
    shader = UsdShade.Shader.Define(stage, path.AppendChild("surface"))
    shader.CreateIdAttr("UsdPreviewSurface")
    shader.CreateInput("diffuseColor", Sdf.ValueTypeNames.Color3f).Set(Gf.Vec3f(*finish.colour))
    shader.CreateInput("roughness", Sdf.ValueTypeNames.Float).Set(finish.roughness)
    material.CreateSurfaceOutput().ConnectToSource(shader.ConnectableAPI(), "surface")
    return material


def _write_part(stage: Any, part: Part, path: Any, material: Any) -> None:
    groups = rigid_groups(part)
    if part.placements is None:
        made = _write_mesh(stage, part.mesh, path, part.solid)
    else:
        made = UsdGeom.Xform.Define(stage, path)
        for suffix, mesh, frames in groups:
            child = path.AppendChild(_identifier(f"copies{suffix}"))
            if frames is None:
                _write_mesh(stage, mesh, child, part.solid)
            else:
                _write_copies(stage, mesh, frames, child, part.solid)
    prim = made.GetPrim()
    prim.SetDisplayName(part.path[-1])
    prim.SetCustomDataByKey("part", part.name)
    prim.SetCustomDataByKey("copies", part.count)
    UsdShade.MaterialBindingAPI.Apply(prim).Bind(material)


def _write_mesh(stage: Any, mesh: Mesh, path: Any, solid: bool) -> Any:
    drawn = shaded(mesh)
    made = UsdGeom.Mesh.Define(stage, path)
    made.CreatePointsAttr(Vt.Vec3fArray.FromNumpy(drawn.vertices.astype(np.float32)))
    counts = np.full(len(drawn.faces), 3, dtype=np.int32)
    made.CreateFaceVertexCountsAttr(Vt.IntArray.FromNumpy(counts))
    corners = drawn.faces.astype(np.int32).ravel()
    made.CreateFaceVertexIndicesAttr(Vt.IntArray.FromNumpy(corners))
    made.CreateNormalsAttr(Vt.Vec3fArray.FromNumpy(drawn.normals.astype(np.float32)))
    made.SetNormalsInterpolation(UsdGeom.Tokens.vertex)
    made.CreateSubdivisionSchemeAttr(UsdGeom.Tokens.none)
    made.CreateDoubleSidedAttr(not solid)
    low, high = mesh.bounds
    made.CreateExtentAttr([Gf.Vec3f(*map(float, low)), Gf.Vec3f(*map(float, high))])
    return made


def _write_copies(stage: Any, mesh: Mesh, frames: Floats, path: Any, solid: bool) -> None:
    made = UsdGeom.PointInstancer.Define(stage, path)
    piece = _write_mesh(stage, mesh, path.AppendChild("piece"), solid)
    made.CreatePrototypesRel().SetTargets([piece.GetPath()])
    made.CreateProtoIndicesAttr(Vt.IntArray.FromNumpy(np.zeros(len(frames), dtype=np.int32)))
    places = np.ascontiguousarray(frames[:, :3, 3], dtype=np.float32)
    made.CreatePositionsAttr(Vt.Vec3fArray.FromNumpy(places))
    # single precision beside the older attribute's half, whose turns err by millimetres
    turns = quaternions(frames[:, :3, :3]).astype(np.float32)
    made.CreateOrientationsfAttr(Vt.QuatfArray.FromNumpy(turns))
    made.CreateOrientationsAttr(Vt.QuathArray.FromNumpy(turns.astype(np.float16)))
