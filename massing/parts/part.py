"""What a house is made of once it is built: a part under a builder's name, and the model of all.

Nothing downstream of a :class:`Model` knows about orders, windows or tiles.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from massing.geometry.mesh import Floats, Mesh, in_world

Path = tuple[str, ...]
"""A part's name as words, coarse to fine: ``("porch", "entablature", "cornice")``."""

_CARVED = ("lower leaves", "upper leaves", "calyx leaves", "leaves", "rosettes", "corner rosettes")
_CARVED_MOULDINGS = ("egg and dart", "bead and reel", "leaf")


@dataclass(frozen=True, eq=False)
class Part:
    """A piece of the building under the name a builder would give it.

    It holds one closed mesh and, when the same piece is set many times (columns, balusters,
    roof tiles), the placements of its copies.

    >>> from massing.geometry.solids import box_between
    >>> die = Part(("pedestal", "die"), "paint", box_between((0, 0, 0), (1, 1, 1)))
    >>> die.under("porch").name
    'porch/pedestal/die'

    Attributes:
        path: its name, word by word from coarse to fine.
        role: the material role, e.g. ``paint``, ``wall``, ``tile``, ``glass``.
        mesh: the shape in its own frame.
        placements: ``(k, 4, 4)`` frames of the copies, or None for one copy where it stands.
        solid: False for the few open sheets (the ground); every other mesh is closed.
        twin: which it is of the parts of one model that share its path; a :class:`Model`
            numbers them.
    """

    path: Path
    role: str
    mesh: Mesh
    placements: Floats | None = None
    solid: bool = True
    twin: int = 1

    def __post_init__(self) -> None:
        """Refuse a name in one piece, which as a sequence of letters would pass for a path."""
        if isinstance(self.path, str) or any("/" in word for word in self.path):
            raise TypeError(f"a part's path is a tuple of words, got {self.path!r}")

    @property
    def name(self) -> str:
        """The path as it is printed, e.g. ``porch/entablature/cornice``."""
        return "/".join(self.path)

    @property
    def key(self) -> str:
        """A name that no other part of its model has: ``setting/hedge #2`` is the second hedge."""
        return self.name if self.twin == 1 else f"{self.name} #{self.twin}"

    @property
    def carved(self) -> bool:
        """Leaves and flowers, of which a drawing shows the outlines and not every crease."""
        return self.path[-1] in _CARVED

    @property
    def carved_moulding(self) -> bool:
        """The carving of a moulding, which a drawing to scale is too small for."""
        return self.path[-1] in _CARVED_MOULDINGS

    @property
    def count(self) -> int:
        """How many copies stand in the model."""
        return 1 if self.placements is None else len(self.placements)

    def within(self, *words: str) -> bool:
        """Whether its path begins with these words."""
        return self.path[: len(words)] == words

    def under(self, *words: str) -> Part:
        """The same part with words before its path."""
        return replace(self, path=(*words, *self.path))

    def renamed(self, word: str, *words: str) -> Part:
        """The same part with other words for one word of its path, the first that is so."""
        if word not in self.path:
            return self
        at = self.path.index(word)
        return replace(self, path=(*self.path[:at], *words, *self.path[at + 1 :]))

    def placed(self, matrices: Floats) -> Part:
        """Copies at each of ``matrices`` ``(k, 4, 4)``; existing placements are composed."""
        matrices = np.asarray(matrices, dtype=float).reshape(-1, 4, 4)
        if self.placements is not None:
            matrices = np.einsum("aij,bjk->abik", matrices, self.placements).reshape(-1, 4, 4)
        return replace(self, placements=matrices)

    def moved(self, matrix: Floats) -> Part:
        """The part moved as a whole by one ``(4, 4)`` matrix."""
        if self.placements is None:
            return replace(self, mesh=self.mesh.moved(matrix))
        return self.placed(matrix)

    def world_mesh(self) -> Mesh:
        """All copies as one mesh in world coordinates."""
        return in_world(self)

    @cached_property
    def world_bounds(self) -> Floats:
        """``(2, 3)`` lowest and highest corner of all copies, metres."""
        return self.world_mesh().bounds


def under(word: str, parts: Iterable[Part]) -> list[Part]:
    """The parts with a word before their paths."""
    return [p.under(word) for p in parts]


@dataclass(frozen=True, eq=False)
class Model:
    """The whole building as a flat list of parts, in metres.

    X runs along the front, Y into the house (the front faces -Y), Z up; the origin is on the
    ground at the middle of the front wall's face. Parts that share a path are numbered, so that
    every :attr:`Part.key` stands for one part.
    """

    parts: tuple[Part, ...]
    name: str = ""
    notes: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Number the parts that share a path, in the model's order."""
        counts: dict[Path, int] = {}
        numbered = []
        for part in self.parts:
            twin = counts[part.path] = counts.get(part.path, 0) + 1
            numbered.append(part if part.twin == twin else replace(part, twin=twin))
        object.__setattr__(self, "parts", tuple(numbered))

    def select(self, *names: str) -> list[Part]:
        """Parts whose printed name is, or begins with the words of, any of ``names``."""
        return [
            p
            for p in self.parts
            if any(p.name == name or p.name.startswith(name + "/") for name in names)
        ]

    @cached_property
    def building_bounds(self) -> Floats:
        """``(2, 3)`` bounds of everything but the setting, metres."""
        boxes = [p.world_mesh().bounds for p in self.parts if not p.within("setting")]
        return np.array(
            [np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)]
        )
