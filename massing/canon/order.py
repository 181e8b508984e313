"""An order scaled to metres: what the builder needs to know of a canon's plate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.entasis import CURVES, FROM_THE_FOOT, WIDEST_AT_A_THIRD
from massing.geometry.mesh import Floats


@dataclass(frozen=True)
class Ornament:
    """An ornament set out along a member at equal spacing: dentils, triglyphs, modillions.

    Attributes:
        kind: ``dentil``, ``triglyph``, ``regula``, ``mutule`` or ``modillion``.
        width: width of one, along the run.
        spacing: centre to centre by the plate.
        reach: its outermost face from the frieze's face.
        height: its height; dentils and the like hang from the top of their member.
        guttae: drops under each, along the run; ``gutta_height`` their length.
    """

    kind: str
    width: float
    spacing: float
    reach: float
    height: float
    guttae: int = 0
    gutta_height: float = 0.0


@dataclass(frozen=True)
class Member:
    """One moulding of a plate, with its sizes in metres once fitted (in parts before).

    Attributes:
        name: the trade's name, e.g. ``corona``.
        kind: the curve, a key of :data:`massing.canon.mouldings.CURVES`.
        height: its height.
        foot: reach of its lower edge, from the column's axis (column members) or from the
            frieze's face (entablature members); ``head`` that of its upper edge.
        square: square in plan (plinth, abacus) instead of round.
        recess: depth of the hollow in its underside, behind the drip.
        row: the ornament set along it.
        carving: what it is carved with: ``egg and dart``, ``bead and reel`` or ``leaf``.
    """

    name: str
    kind: str
    height: float
    foot: float
    head: float
    square: bool = False
    recess: float = 0.0
    row: Ornament | None = None
    carving: str = ""

    @property
    def reach(self) -> float:
        """The farther of its two edges."""
        return max(self.foot, self.head)

    def hollow(self, beneath: float) -> tuple[float, float]:
        """Reach of the inner and outer edge of the hollow in its underside.

        ``beneath`` is the reach of the member it overhangs; the lip at its edge is the drip.
        """
        width = self.foot - beneath
        return beneath + 0.12 * width, self.foot - 0.16 * width


@dataclass(frozen=True)
class FittedCornice:
    """A run of mouldings standing on a wall face or a frieze, bottom to top, in metres."""

    members: tuple[Member, ...]

    @property
    def height_m(self) -> float:
        """Sum of the members' heights."""
        return sum(m.height for m in self.members)

    @property
    def projection_m(self) -> float:
        """The farthest reach from the face it stands on."""
        return max(m.reach for m in self.members)

    @property
    def unadorned(self) -> FittedCornice:
        """The same mouldings without what is carved on them or set out along them."""
        return FittedCornice(_unadorned(self.members))


@dataclass(frozen=True)
class FittedOrder:
    """A column and its entablature in metres, member by member, bottom to top.

    Reaches of base, shaft and capital members are from the column's axis; those of
    architrave, frieze and cornice from the frieze's face, which stands over the shaft's
    upper face (half the upper diameter out from the axis).

    ``diameter_m`` is two modules: the shaft's width at its foot or, where it is lessened
    downwards too (:attr:`swelled`), at a third of its height; :attr:`foot_diameter_m` is that
    at the foot in either case.

    The shaft's height takes in its own end mouldings, ``shaft_foot`` and ``shaft_head``.
    ``entasis`` is a key of :data:`massing.canon.entasis.CURVES`. ``origins`` says of each
    main dimension whether it was given or by which rule it follows.
    """

    order: str
    canon: str
    diameter_m: float
    upper_diameter_m: float
    base: tuple[Member, ...]
    shaft_height_m: float
    capital: tuple[Member, ...]
    architrave: tuple[Member, ...]
    frieze: tuple[Member, ...]
    cornice: tuple[Member, ...]
    square: bool = False  # a square pier
    triglyph_width_m: float = 0.0  # Doric only
    origins: tuple[tuple[str, str], ...] = ()
    shaft_foot: tuple[Member, ...] = ()
    shaft_head: tuple[Member, ...] = ()
    entasis: str = "none"
    flutes: int = 0
    flute_kind: str = ""  # arris (Doric) or fillet
    clear_spacing_diameters: float = 0.0  # the canon's own intercolumniation
    capital_kind: str = "turned"  # turned, ionic, corinthian or composite
    capital_sizes: tuple[tuple[str, float], ...] = ()  # of its carving, from the axis
    pedestal: tuple[Member, ...] = ()  # beneath the base; empty where there is none

    @property
    def unadorned(self) -> FittedOrder:
        """The same mouldings without what is carved on them or set out along them.

        Its shaft is smooth, and its capital turned as its members are, without volutes and leaves.
        """
        return replace(
            self,
            capital_kind="turned",
            flutes=0,
            architrave=_unadorned(self.architrave),
            frieze=_unadorned(self.frieze),
            cornice=_unadorned(self.cornice),
        )

    @property
    def swelled(self) -> bool:
        """Whether the shaft is wider at a third of its height than at its foot."""
        return self.entasis == WIDEST_AT_A_THIRD and self.upper_diameter_m < self.diameter_m

    @property
    def foot_diameter_m(self) -> float:
        """The shaft's width over the mouldings at its foot."""
        return 2.0 * float(self.shaft_radii(sum(m.height for m in self.shaft_foot)))

    @property
    def diameter_at(self) -> str:
        """Where :attr:`diameter_m` is measured, in words."""
        return "at a third of the shaft" if self.swelled else "at the foot"

    def shaft_radii(self, y_m: ArrayLike) -> Floats:
        """Half the shaft's width at heights over its foot, between its end mouldings."""
        foot = sum(m.height for m in self.shaft_foot) if self.entasis in FROM_THE_FOOT else 0.0
        body = self.shaft_height_m - sum(m.height for m in self.shaft_head)
        y = np.asarray(y_m, dtype=float) - foot
        curve = CURVES[self.entasis]
        return curve(y, body - foot, self.diameter_m / 2.0, self.upper_diameter_m / 2.0)

    @property
    def base_height_m(self) -> float:
        """Plinth, mouldings and, where the canon counts it so, cincture."""
        return sum(m.height for m in self.base)

    @property
    def capital_height_m(self) -> float:
        """Necking to abacus."""
        return sum(m.height for m in self.capital)

    @property
    def column_height_m(self) -> float:
        """Base, shaft and capital."""
        return self.base_height_m + self.shaft_height_m + self.capital_height_m

    @property
    def architrave_height_m(self) -> float:
        """Sum of the architrave's members."""
        return sum(m.height for m in self.architrave)

    @property
    def frieze_height_m(self) -> float:
        """Sum of the frieze's members."""
        return sum(m.height for m in self.frieze)

    @property
    def cornice_height_m(self) -> float:
        """Sum of the cornice's members."""
        return sum(m.height for m in self.cornice)

    @property
    def entablature_height_m(self) -> float:
        """Architrave, frieze and cornice."""
        return self.architrave_height_m + self.frieze_height_m + self.cornice_height_m

    @property
    def order_height_m(self) -> float:
        """Column and entablature."""
        return self.column_height_m + self.entablature_height_m

    @property
    def pedestal_height_m(self) -> float:
        """Sum of the pedestal's members; nothing where there is none."""
        return sum(m.height for m in self.pedestal)

    @property
    def whole_height_m(self) -> float:
        """Pedestal, column and entablature."""
        return self.pedestal_height_m + self.order_height_m

    @cached_property
    def cornice_projection_m(self) -> float:
        """The cornice's farthest reach from the frieze's face."""
        return max(m.reach for m in self.cornice)

    @property
    def plinth_width_m(self) -> float:
        """Width of the base's widest member."""
        return 2.0 * max(m.reach for m in self.base)

    @property
    def foot_width_m(self) -> float:
        """Width of what stands on the floor: the pedestal, or else the base."""
        return 2.0 * max(m.reach for m in self.pedestal or self.base)

    @property
    def abacus_width_m(self) -> float:
        """Width of the capital's widest member."""
        return 2.0 * max(m.reach for m in self.capital)


def _unadorned(members: Sequence[Member]) -> tuple[Member, ...]:
    return tuple(replace(m, row=None, carving="") if m.row or m.carving else m for m in members)


def beyond_face(members: Sequence[Member], radius: float) -> tuple[Member, ...]:
    """Members with their reach from the shaft's face instead of its axis."""
    return tuple(replace(m, foot=m.foot - radius, head=m.head - radius) for m in members)


def corona_index(cornice: Sequence[Member]) -> int:
    """Which member is the corona: that of the name, or else the boldest upright face."""
    named = [i for i, m in enumerate(cornice) if m.name == "corona"]
    upright = [i for i, m in enumerate(cornice) if m.kind == "fillet"] or range(len(cornice))
    steps = [cornice[i].foot - (cornice[i - 1].head if i else 0.0) for i in upright]
    return named[0] if named else upright[int(np.argmax(steps))]
