"""A stand-in for Blender's layout that measures a panel's texts against the width they get.

Sizes are Blender's own at a scale of 1: a unit is 20 pixels, words are set in 11 points. Rows share
their width as Blender does, by what each item asks for, and a text is cut where a row's items ask
for more than there is.
"""

from __future__ import annotations

from typing import Any

import blf

UNIT = 20.0
PANEL = 24.0  # of a region's width: the tabs beside the panels are told apart
TABS = 20.0
_PAD = 8.0  # about a label's words
_BUTTON = 14.0  # about a button's
_ARROW = 16.0  # of a drop-down list
_LEAST = 2.0 * UNIT  # a field in which a value can be read


def width(text: str) -> float:
    """Pixels that a text takes."""
    blf.size(0, 11.0)
    return float(blf.dimensions(0, text)[0])


class Item:
    """One thing laid out: how wide it would be, and what it says."""

    def __init__(self, says: str, asks: float, *, label: bool = False) -> None:
        self.says, self.asks, self.label = says, asks, label

    def measured(self, room: float, cut: list[Item]) -> None:
        """Note what does not fit."""
        self.room = room
        if self.asks > room + 0.5:
            cut.append(self)


class Layout:
    """What a panel draws into; :meth:`cut` tells what does not fit."""

    def __init__(self, kind: str = "column", factor: float = 0.0) -> None:
        self.kind, self.factor = kind, factor
        self.items: list[Any] = []
        self.active = self.enabled = True
        self.alert = False
        self.scale_y = 1.0
        self.says = kind

    # --- what Blender offers ----------------------------------------------------------------

    def column(self, align: bool = False) -> Layout:
        return self._within("column")

    def row(self, align: bool = False) -> Layout:
        return self._within("row")

    def box(self) -> Layout:
        return self._within("box")

    def split(self, factor: float = 0.0, align: bool = False) -> Layout:
        return self._within("split", factor)

    def separator(self, factor: float = 1.0) -> None:
        return None

    def label(self, text: str = "", icon: str = "NONE") -> None:
        asks = (width(text) + _PAD if text else 0.0) + (icon != "NONE") * UNIT
        self.items.append(Item(text, asks, label=True))

    def operator(
        self, name: str, text: str | None = None, icon: str = "NONE", emboss: bool = True
    ) -> Any:
        import bpy

        group, _, verb = name.partition(".")
        kind = getattr(getattr(bpy.ops, group), verb).get_rna_type()
        self._button(kind.name if text is None else text, icon)

        class Given:
            """Takes what the button is given."""

        return Given()

    def operator_menu_enum(
        self, name: str, prop: str, text: str | None = None, icon: str = "NONE"
    ) -> None:
        self.operator(name, text, icon)
        self.items[-1].asks += _ARROW

    def prop(
        self,
        data: Any,
        name: str,
        text: str | None = None,
        toggle: int | bool = -1,
        icon: str = "NONE",
    ) -> None:
        kind = data.bl_rna.properties[name]
        words = kind.name if text is None else text
        value = getattr(data, name)
        if kind.type == "BOOLEAN":
            self._add(words, UNIT + (width(words) + _PAD if words else 0.0))
            return
        asks = (icon != "NONE") * UNIT + _BUTTON
        if kind.type == "ENUM":
            chosen = next((i.name for i in kind.enum_items if i.identifier == value), str(value))
            asks += width(words) + width(chosen) + _ARROW + (bool(words) * _PAD)
            says = f"{words} {chosen}".strip()
        elif kind.type in ("INT", "FLOAT"):
            told = f"{value:g}"
            says, asks = f"{words} {told}", asks + width(words) + width(told) + bool(words) * _PAD
        else:
            says, asks = str(value), max(asks + width(value), _LEAST)
        self._add(says.strip(), asks)

    def cut(self, room: float) -> list[str]:
        """What does not fit into so many pixels, and is not told whole in lines of its own."""
        found: list[Item] = []
        self.measured(room, found)
        told = " ".join(self._labels())
        return [
            f"{item.says!r} asks {item.asks:.0f} of {item.room:.0f}"
            for item in found
            if item.label or not item.says or " ".join(item.says.split()) not in told
        ]

    def _labels(self) -> list[str]:
        found = []
        for item in self.items:
            if isinstance(item, Layout):
                found += item._labels()
            elif item.label and item.says:
                found.append(item.says)
        return found

    # --- measuring --------------------------------------------------------------------------

    def _within(self, kind: str, factor: float = 0.0) -> Layout:
        made = Layout(kind, factor)
        self.items.append(made)
        return made

    def _add(self, says: str, asks: float) -> None:
        self.items.append(Item(says, asks))

    def _button(self, text: str, icon: str) -> None:
        pictured = (icon != "NONE") * UNIT
        self._add(text or icon, pictured + (width(text) + _BUTTON if text else 0.0))

    @property
    def asks(self) -> float:
        """How wide it would be."""
        wide = [item.asks for item in self.items]
        return (sum(wide) if self.kind in ("row", "split") else max(wide, default=0.0)) + (
            16.0 if self.kind == "box" else 0.0
        )

    def measured(self, room: float, cut: list[Item]) -> None:
        """Note every text that does not fit into so many pixels."""
        room -= 16.0 if self.kind == "box" else 0.0
        if self.kind == "split":
            shares = [self.factor * room, (1.0 - self.factor) * room]
            for item, share in zip(self.items, shares, strict=True):
                item.measured(share, cut)
        elif self.kind == "row":
            for item in self.items:  # a picture alone keeps its size, words give way
                others = self.asks - item.asks
                item.measured(max(room - others, min(item.asks, UNIT)), cut)
        else:
            for item in self.items:
                item.measured(room, cut)
