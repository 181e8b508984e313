"""Parametric porches and houses in true daylight: meshes, proportions, shadows, pictures.

What a script needs stands here. A scene file goes in; its designs, their models, figures,
findings and shadows come out:

>>> import massing
>>> study = massing.read_study("scenes/marsh_road.yaml")
>>> for design in study.designs:
...     model = massing.build_model(design)
...     sun = study.suns[1]
...     shadow = massing.shadows_of(design, [sun], model)[0]
...     print(f"{design.name}: the cornice's shadow {shadow.cornice_rule_m:.3f} m deep")
as drawn: the cornice's shadow 0.049 m deep
Four Tuscan columns: the cornice's shadow 0.271 m deep
Six Tuscan columns: the cornice's shadow 0.271 m deep
With a tile roof: the cornice's shadow 0.271 m deep
Six Doric columns: the cornice's shadow 0.273 m deep

Lengths are metres, angles radians where a name does not say degrees. X runs to the right along
the front as seen from the street, Y into the house, Z up; the origin is on the ground at the
middle of the front wall's face.

What can go wrong is one of two errors, both a :class:`ValueError` of one line:

- :class:`SceneError`: a scene file that cannot be used; ``file``, ``line`` and ``detail``.
- :class:`DesignError`: fields that are each allowed but cannot be built together; ``field``,
  ``given`` and ``allowed``.

Nothing heavy is imported until a function is called.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from massing.design.design import Design
    from massing.findings.figure import Figure
    from massing.findings.finding import Finding
    from massing.parts.part import Model
    from massing.scene.errors import DesignError, SceneError
    from massing.scene.spec import Scene
    from massing.shadow.study import Moment
    from massing.study.study import Study
    from massing.sun.position import SunTime

__version__ = "0.1.0"

__all__ = [
    "Design",
    "DesignError",
    "Figure",
    "Finding",
    "Model",
    "Moment",
    "Scene",
    "SceneError",
    "Study",
    "SunTime",
    "build_model",
    "figures_of",
    "findings_of",
    "read_study",
    "resolve_scene",
    "shadows_of",
]

_HOMES = {
    "Design": "massing.design.design",
    "DesignError": "massing.scene.errors",
    "Figure": "massing.findings.figure",
    "Finding": "massing.findings.finding",
    "Model": "massing.parts.part",
    "Moment": "massing.shadow.study",
    "Scene": "massing.scene.spec",
    "SceneError": "massing.scene.errors",
    "Study": "massing.study.study",
    "SunTime": "massing.sun.position",
}


def __getattr__(name: str) -> Any:
    """The classes above, each from its home when it is asked for."""
    if name not in _HOMES:
        raise AttributeError(f"module 'massing' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})


def read_study(path: Path | str, text: str | None = None) -> Study:
    """Read a scene file: its designs with every dimension known, and its suns.

    The sun's place is by Reda and Andreas [1]_, its strength under a clear sky by Ineichen and
    Perez [2]_ with the usual haze of the month at the place [3]_.

    Args:
        path: the scene file.
        text: what the file would hold, to be read in its place.

    Returns:
        ``designs``, the one as drawn first; ``suns``, one for each of the scene's times, with
        ``altitude_deg`` over the horizon (0 to 90, bent by the air) and ``azimuth_deg``
        clockwise from north (0 to 360); ``models``, built when first asked for.

    Raises:
        SceneError: file, line, field, what was given and what is allowed.

    References:
        .. [1] I. Reda and A. Andreas, "Solar position algorithm for solar radiation
           applications", Solar Energy 76 (2004), 577-589.
        .. [2] P. Ineichen and R. Perez, "A new airmass independent formulation for the Linke
           turbidity coefficient", Solar Energy 73 (2002), 151-157.
        .. [3] J. Remund and others, "Worldwide Linke turbidity information", ISES Solar World
           Congress, Gothenburg 2003.

    >>> study = read_study("scenes/vineyard_cottage.yaml")
    >>> [design.name for design in study.designs]
    ['as drawn', 'Tuscan', 'Ionic with a pediment']
    >>> [(sun.label, round(sun.altitude_deg, 1)) for sun in study.suns][:1]
    [('summer solstice 13:00', 78.2)]
    >>> try:
    ...     read_study("wrong.yaml", "title: Wrong\\nsite: {latitude: 95}")
    ... except ValueError as fault:
    ...     print(fault)
    wrong.yaml:2: site.latitude: given 95, allowed: a number, -90 to 90 (Degrees, north positive)
    """
    from massing.study.study import read_study

    return read_study(path, text)


def resolve_scene(scene: Scene, name: str = "as drawn") -> Design:
    """The design that a scene's fields ask for, every dimension known.

    What the fields leave out follows from the canon of the order or from common practice;
    ``origins`` of the design says of each number where it came from.

    Args:
        scene: the validated fields; ``Scene.model_validate`` makes them of plain values.
        name: what to call the design.

    Raises:
        DesignError: the fields are each allowed but cannot stand together.

    >>> import massing
    >>> fields = {
    ...     "title": "House by the ford",
    ...     "units": "metric",
    ...     "site": {"place": "Anywhere", "latitude": 44, "longitude": 11.5, "front_faces": "S"},
    ...     "times": ["summer solstice 10:00"],
    ...     "house": {"width": "12 m", "depth": "9 m", "storeys": ["3.4 m", "3 m"]},
    ...     "porch": {"order": "tuscan", "columns": 4},
    ... }
    >>> design = resolve_scene(massing.Scene.model_validate(fields))
    >>> round(design.porch.order.diameter_m, 3)  # a seventh of the column's height
    0.394
    >>> fields["porch"]["height"] = "9 m"
    >>> try:
    ...     resolve_scene(massing.Scene.model_validate(fields))
    ... except ValueError as fault:
    ...     print(fault.field, "allowed:", fault.allowed)
    porch.height allowed: a top at or below the wall's 7.010 m; fits with porch.height 3.746 m
    """
    from massing.resolve.design import resolve

    return resolve(scene, name)


def build_model(design: Design) -> Model:
    """The whole building and its setting as named parts, each a closed mesh or several.

    Returns:
        ``parts``: each with the name that a builder would say, a ``role`` that tells its
        material, a ``mesh`` of ``vertices`` ``(n, 3)``, metres, and ``faces`` ``(m, 3)``, seen
        from outside counter-clockwise, and the ``placements`` ``(k, 4, 4)`` of its copies.

    Raises:
        ValueError: parts of the design collide.

    >>> design = read_study("scenes/vineyard_cottage.yaml").designs[1]
    >>> parts = {part.name: part for part in build_model(design).parts}
    >>> corners = parts["porch/entablature/cornice"].mesh.vertices
    >>> (corners.max(axis=0) - corners.min(axis=0)).round(2)  # along, in, up
    array([9.45, 2.81, 0.24])
    """
    from massing.build.house import build

    return build(design)


def figures_of(design: Design, suns: Sequence[SunTime] = ()) -> list[Figure]:
    """What a design measures: proportions first, then its shadows at each of the suns.

    Returns:
        Each with a ``key`` that stays the same, its ``name``, its ``value`` (lengths in metres,
        angles in degrees, ratios plain), and ``written`` as the trade writes it.

    >>> study = read_study("scenes/vineyard_cottage.yaml")
    >>> figures = {figure.key: figure for figure in figures_of(study.designs[1])}
    >>> round(figures["slenderness"].value, 6), figures["slenderness"].written("metric")
    (7.0, '1:7.0')
    """
    from massing.findings.report import figures

    return figures(design, suns)


def findings_of(design: Design) -> list[Finding]:
    """What published canons, codes and common practice say of a design, proportions first.

    Findings inform; none changes the design. Local codes and licensed practice decide.

    Returns:
        Each with a ``key``, a ``severity`` (``caution`` touches safety, ``check`` questions a
        proportion, ``note`` informs), its ``text``, and the ``source`` of its rule with its
        mark: ``read``, ``from memory``, or common practice without a source.

    >>> study = read_study("scenes/marsh_road.yaml")
    >>> slender = next(f for f in findings_of(study.designs[0]) if f.key == "slender")
    >>> slender.severity, slender.text[:22]
    ('check', 'The piers are 1:20.1, ')
    """
    from massing.findings.report import findings

    return findings(design)


def shadows_of(design: Design, suns: Iterable[SunTime], model: Model | None = None) -> list[Moment]:
    """What is in sun and in shade on the front, measured by rays on the built model.

    Args:
        design: whose front.
        suns: such as those of :func:`read_study`.
        model: the design's, where it is built already.

    Returns:
        For each sun: ``cornice_rule_m``, the cornice's shadow by the vertical shadow angle, p tan
        W [1]_ (metres; None when the sun is not on the front); ``shade``, how deep the shade is
        on the model (least, mean, most); ``in_sun``, the share of each surface in the sun, 0 to
        1; ``soft_edge_m``, the height of the shadow's soft edge, by the disc of the sun.

    References:
        .. [1] ASHRAE Fundamentals, chapter on fenestration (from memory), and geometry.

    >>> study = read_study("scenes/marsh_road.yaml")
    >>> moment = shadows_of(study.designs[1], study.suns)[1]
    >>> frieze = moment.shade[0]
    >>> frieze.name, round(moment.cornice_rule_m, 3), round(frieze.mean_m, 3)
    ('frieze, from the cornice down', 0.271, 0.271)
    """
    from massing.shadow.front import ready_front
    from massing.shadow.study import measure

    return measure(ready_front(design, model or build_model(design)), list(suns))
