"""The resolved design: every dimension known, in metres, and where each number came from.

Heights called ``*_z_m`` are above the ground at the house; everything else is a size. The
frame is the house's own: X along the front, Y into the house, Z up, origin on the ground at
the middle of the front wall's outer face.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeVar

from massing.design.house import HouseDesign
from massing.design.kinds import Units
from massing.design.opening import DoorOpening, Opening
from massing.design.origin import Origin
from massing.design.porch import BalustradeDesign, PorchDesign
from massing.design.roof import DeckRoof, RoofDesign
from massing.design.setting import SettingDesign
from massing.design.side_porch import SidePorchDesign
from massing.design.site import SiteDesign
from massing.units import INCH_M

_P = TypeVar("_P", bound=PorchDesign)


@dataclass(frozen=True)
class Design:
    """One alternative, ready to be built.

    ``origins`` says of each resolved number where it came from: the scene's line, or the rule.
    """

    name: str
    site: SiteDesign
    house: HouseDesign
    porch: PorchDesign
    roof: RoofDesign
    units: Units = "feet"
    side_porches: tuple[SidePorchDesign, ...] = ()
    rounding_m: float = INCH_M / 16.0  # of the sizes written out for the builder
    scale_figure: bool = True
    setting: SettingDesign = field(default_factory=SettingDesign)
    colours: tuple[tuple[str, str], ...] = ()  # what is painted, in the builder's words, as #rrggbb
    origins: dict[str, Origin] = field(default_factory=dict, compare=False)

    @property
    def unlaid(self) -> Design:
        """The same without its roofs' coverings, its walls' bricks and boards in relief, and what
        stands about it; the courses of its balustrades are not made one.

        It is built in a fraction of the time, and all else of it as it is. What collides in the
        one collides in the other: nothing collides with those pieces, which are cut to what
        they meet, and what stands about a house was refused when it was resolved.
        """

        def loose(rail: BalustradeDesign | None) -> BalustradeDesign | None:
            return replace(rail, laid=False) if rail else None

        def bare(roof: RoofDesign) -> RoofDesign:
            if isinstance(roof, DeckRoof):
                roof = replace(roof, deck_balustrade=loose(roof.deck_balustrade))
            return replace(roof, laid=False)

        def plain(house: HouseDesign) -> HouseDesign:
            wings = (replace(w, house=plain(w.house), roof=bare(w.roof)) for w in house.wings)
            return replace(house, relief=False, wings=tuple(wings))

        def open_air(porch: _P) -> _P:
            upper = open_air(porch.upper) if porch.upper else None
            rail, guard = loose(porch.balustrade), loose(porch.guard)
            return replace(porch, upper=upper, balustrade=rail, guard=guard)

        return replace(
            self,
            house=plain(self.house),
            porch=open_air(self.porch),
            side_porches=tuple(
                replace(one, porch=open_air(one.porch)) for one in self.side_porches
            ),
            roof=bare(self.roof),
            scale_figure=False,
            setting=replace(self.setting, hedges=(), trees=(), neighbours=()),
        )

    @property
    def unadorned(self) -> Design:
        """What :attr:`unlaid` is, without the ornament of its orders too: to look for faults.

        Mouldings are as they are; what is carved on them or set out along them, flutes, volutes
        and leaves stand on them and meet nothing else. Walls of stone are not cut into stones.
        """

        def porch(given: _P) -> _P:
            upper = porch(given.upper) if given.upper else None
            return replace(given, order=given.order.unadorned, upper=upper)

        def opening(given: Opening) -> Opening:
            if not isinstance(given, DoorOpening) or given.door.surround is None:
                return given
            surround = replace(given.door.surround, order=given.door.surround.order.unadorned)
            return replace(given, door=replace(given.door, surround=surround))

        def roof(given: RoofDesign) -> RoofDesign:
            rows = (replace(row, cornice=row.cornice.unadorned) for row in given.dormers)
            return replace(given, dormers=tuple(rows))

        def house(given: HouseDesign) -> HouseDesign:
            pilasters = given.corner_pilasters
            wings = (replace(w, house=house(w.house), roof=roof(w.roof)) for w in given.wings)
            return replace(
                given,
                walls="stucco" if given.walls == "limestone" else given.walls,
                cornice=given.cornice.unadorned,
                corner_pilasters=pilasters.unadorned if pilasters else None,
                openings=tuple(map(opening, given.openings)),
                wings=tuple(wings),
            )

        whole = self.unlaid
        return replace(
            whole,
            house=house(whole.house),
            porch=porch(whole.porch),
            side_porches=tuple(replace(o, porch=porch(o.porch)) for o in whole.side_porches),
            roof=roof(whole.roof),
        )
