"""Which subject a field belongs to, as a designer looks for it."""

from __future__ import annotations

from massing.scene.edit import FieldPath

SUBJECTS = (
    "Columns",
    "Spacing",
    "Entablature",
    "Balustrade",
    "Porch",
    "Steps",
    "Upper porch",
    "Side porches",
    "Bays and windows",
    "Door",
    "Walls",
    "House",
    "Roof",
    "Colours",
    "Dormers",
    "Gables",
    "Site",
    "Surroundings",
    "Limits of proposals",
    "Times and pictures",
    "Sheet",
)
"""In the order in which a designer asks for them."""

_BY_PATH: dict[FieldPath, str] = {
    ("porch", "order"): "Columns",
    ("porch", "canon"): "Columns",
    ("porch", "columns"): "Columns",
    ("porch", "diameter"): "Columns",
    ("porch", "column_height"): "Columns",
    ("porch", "entasis"): "Columns",
    ("porch", "fluted"): "Columns",
    ("porch", "pedestals"): "Columns",
    ("porch", "arcade"): "Columns",
    ("porch", "responds"): "Columns",
    ("porch", "side_columns"): "Columns",
    ("porch", "along"): "Porch",
    ("porch", "spacing"): "Spacing",
    ("porch", "centre_spacing"): "Spacing",
    ("porch", "paired"): "Spacing",
    ("porch", "entablature"): "Entablature",
    ("porch", "height"): "Entablature",
    ("porch", "breaking_forward"): "Entablature",
    ("porch", "blocking_course"): "Entablature",
    ("porch", "balustrade"): "Balustrade",
    ("porch", "guard"): "Balustrade",
    ("porch", "steps"): "Steps",
    ("porch", "upper"): "Upper porch",
    ("porch",): "Porch",
    ("side_porches",): "Side porches",
    ("house", "bays"): "Bays and windows",
    ("house", "bay_spacing"): "Bays and windows",
    ("house", "bay_centres"): "Bays and windows",
    ("house", "centre_bay"): "Bays and windows",
    ("house", "pair_spacing"): "Bays and windows",
    ("house", "rhythm"): "Bays and windows",
    ("house", "side_bays"): "Bays and windows",
    ("house", "windows"): "Bays and windows",
    ("house", "odd_windows"): "Bays and windows",
    ("house", "bay_windows"): "Bays and windows",
    ("house", "door"): "Door",
    ("house", "side_door"): "Door",
    ("house", "walls"): "Walls",
    ("house", "relief"): "Walls",
    ("house", "bond"): "Walls",
    ("house", "coursing"): "Walls",
    ("house", "rustication"): "Walls",
    ("house", "quoins"): "Walls",
    ("house", "belt_courses"): "Walls",
    ("house", "clapboard_exposure"): "Walls",
    ("house", "corner_pilasters"): "Walls",
    ("house", "foundation"): "Walls",
    ("house", "wall_thickness"): "Walls",
    ("house", "reveal"): "Walls",
    ("house",): "House",
    ("roof", "dormers"): "Dormers",
    ("roof", "gables"): "Gables",
    ("roof", "gable_opening"): "Gables",
    ("roof",): "Roof",
    ("site",): "Site",
    ("colours",): "Colours",
    ("setting",): "Surroundings",
    ("scale_figure",): "Surroundings",
    ("propose",): "Limits of proposals",
    ("framing",): "Times and pictures",
    ("sky",): "Times and pictures",
    ("weathering",): "Times and pictures",
    ("times",): "Times and pictures",
    ("views",): "Times and pictures",
    ("looks",): "Times and pictures",
    ("cameras",): "Times and pictures",
    ("photograph",): "Times and pictures",
    ("sheet",): "Sheet",
}


def subject(path: FieldPath) -> str:
    """The subject of a field: that of the longest beginning of its path that has one.

    >>> subject(("porch", "balustrade", "height")), subject(("house", "windows", 0, "sill"))
    ('Balustrade', 'Bays and windows')
    >>> subject(("title",))
    'House'
    """
    return named_subject(path) or "House"


def named_subject(path: FieldPath) -> str | None:
    """The subject that the table has for a field, None where it has none."""
    beginnings = (path[:length] for length in range(len(path), 0, -1))
    return next((_BY_PATH[part] for part in beginnings if part in _BY_PATH), None)
