"""The Ionic capital, on its neck at z = 0, and the horned abacus that others share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack
from massing.geometry.cleaning import cleaned
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import (
    lathe,
    loft,
    offset_directions,
    prism,
    square_lathe,
    turned_about_z,
)
from massing.parts.orders.ornament import egg_and_dart, volute_face, volute_outline
from massing.parts.part import Part

_SEGMENTS = 64
MIRROR_X = np.diag([-1.0, 1.0, 1.0, 1.0])
MIRROR_Y = np.diag([1.0, -1.0, 1.0, 1.0])


def shift(x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Floats:
    matrix = np.eye(4)
    matrix[:3, 3] = x, y, z
    return matrix


def height_of(members: Sequence[Member]) -> float:
    return sum(m.height for m in members)


# --- Ionic ---------------------------------------------------------------------------------


def turned_echinus(order: FittedOrder, member: Member, foot: float, enriched: bool) -> Mesh:
    """The echinus, plain or carved with an egg over every flute."""
    edge = stack([member], foot)
    return egg_and_dart(edge, order.flutes or 24) if enriched else lathe(edge, _SEGMENTS)


def ionic(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """Echinus, channel with its four volutes and their cushions, and abacus."""
    echinus, channel, rim, *abacus = order.capital
    sizes = dict(order.capital_sizes)
    eye = (channel.height + rim.height) / 4.0
    x, face = sizes["eye"], sizes["face"]
    foot, top = echinus.height, echinus.height + channel.height + rim.height

    round_ = turned_echinus(order, echinus, 0.0, enriched)
    t = np.linspace(0.0, 1.0, 9)
    hollow = np.column_stack(
        [face - 4.0 * eye * (0.05 + 0.17 * np.sin(np.pi * t)), foot + channel.height * t]
    )
    edge = np.concatenate([hollow, [[face, foot + channel.height], [face, top]]])
    section = np.concatenate([edge, (edge * [-1.0, 1.0])[::-1]])
    band = prism(section, (-x, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.0 * x)

    plate = cleaned(volute_face(eye, 1.5 * eye))  # once for all four
    faces = []
    for mirror_y in (np.eye(4), MIRROR_Y):
        for mirror_x in (np.eye(4), MIRROR_X):
            faces.append(plate.moved(mirror_y @ mirror_x @ shift(x, -face)))
    cushion = _cushion(eye, face - 0.8 * eye)
    cushions = [cushion.moved(m @ shift(x)) for m in (np.eye(4), MIRROR_X)]
    return [
        Part(("column", "capital"), "order", merged([round_, band])),
        Part(("column", "capital", "volutes"), "order", merged([*faces, *cushions])),
        Part(("column", "abacus"), "order", square_lathe(stack(abacus, top))),
    ]


def ionic_angular(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """The Ionic capital with four like faces, its volutes on the diagonals (Scamozzi's manner).

    For corner columns, where the plain capital would show its side; the volutes keep their
    size, the abacus is hollowed over the channel. How far the volutes stand out along the
    diagonals is common practice.
    """
    echinus, channel, rim, *abacus = order.capital
    eye = (channel.height + rim.height) / 4.0
    foot = echinus.height
    top = foot + channel.height + rim.height
    outline = horned_outline(1.12 * abacus[-1].reach, 1.372 * abacus[-1].reach)
    t = np.linspace(0.0, 1.0, 7)
    inset = abacus[-1].reach * 0.1
    band = horned(
        np.column_stack([inset + 0.9 * eye * np.sin(np.pi * t), foot + (top - foot) * t]), outline
    )
    thick = 2.4 * eye
    plate = cleaned(volute_face(eye, thick))
    tip = float(np.linalg.norm(outline, axis=1).max())
    one = [plate.moved(shift(tip - 7.2 * eye, -thick))]
    one += [m.moved(MIRROR_Y) for m in one]
    turns = np.array([turned_about_z(np.pi / 4.0 + i * np.pi / 2.0) for i in range(4)])
    edge = stack(
        [
            replace(m, foot=m.foot - abacus[-1].reach, head=m.head - abacus[-1].reach)
            for m in abacus
        ],
        top,
    )
    return [
        Part(
            ("column", "capital"),
            "order",
            merged([turned_echinus(order, echinus, 0.0, enriched), band]),
        ),
        Part(("column", "capital", "volutes"), "order", merged(one), turns),
        Part(("column", "abacus"), "order", horned(edge * [-1.0, 1.0], outline)),
    ]


def _cushion(eye: float, half_length: float) -> Mesh:
    """The scroll's side from face to face: drawn in to a strap at the middle."""
    outline = volute_outline(eye)
    v = np.array([-1, -0.93, -0.85, -0.7, -0.5, -0.3, -0.15, -0.1499, -0.08, 0.0])
    size = 0.6 + 0.37 * np.abs(v) ** 1.6
    size[v > -0.15] += 0.07
    size[-2] += 0.02
    size[-1] += 0.02
    v = np.concatenate([v, -v[-2::-1]])
    size = np.concatenate([size, size[-2::-1]])
    sections = np.stack(
        [
            size[:, None] * outline[None, :, 0],
            np.broadcast_to((v * half_length)[:, None], (len(v), len(outline))),
            size[:, None] * outline[None, :, 1],
        ],
        axis=-1,
    )
    return loft(sections)


# --- the horned abacus and the bell --------------------------------------------------------


def horned_outline(reach: float, horn: float, steps: int = 12) -> Floats:
    """Plan of an abacus ``(4 (steps + 1), 2)``: hollow sides, corners cut at 45 degrees.

    Each side is an arc about the tip of an equilateral triangle on the side of a square whose
    corners are the horns' faces, for the Corinthian 4 modules from horn to horn (J. Moxon,
    Vignola, XXIII); it ends where the cut makes the whole as wide as it is to be.

    Args:
        reach: half its width over all.
        horn: from the axis to the face of a horn, along the diagonal.
        steps: of each side.
    """
    half_chord = horn * np.sqrt(2.0) - reach
    tip = triangle_tip(horn)
    half_arc = np.arctan2(half_chord, tip - reach)
    turn = np.linspace(-half_arc, half_arc, steps + 1)
    radius = np.hypot(half_chord, tip - reach)
    side = np.column_stack([radius * np.sin(turn), radius * np.cos(turn) - tip])
    quarter = np.array([[0.0, -1.0], [1.0, 0.0]])
    sides = [side]
    for _ in range(3):
        sides.append(sides[-1] @ quarter.T)
    return np.concatenate(sides)


def triangle_tip(horn: float) -> float:
    """From the axis to the tip of an equilateral triangle on a square ``2 horn`` in diagonal."""
    return horn / np.sqrt(2.0) * (1.0 + np.sqrt(3.0))


def hollow_reach(reach: float, horn: float) -> float:
    """From the axis to the middle of a side of :func:`horned_outline`."""
    tip = triangle_tip(horn)
    return float(tip - np.hypot(horn * np.sqrt(2.0) - reach, tip - reach))


def horned(profile: Floats, outline: Floats) -> Mesh:
    """A moulded edge ``(n, 2)`` of (inset, z) run round an outline."""
    across = offset_directions(outline, closed=True)
    plan = outline[None] - profile[:, None, :1] * across[None]
    rise = np.broadcast_to(profile[:, None, 1:], (len(profile), len(outline), 1))
    return loft(np.concatenate([plan, rise], axis=-1))
