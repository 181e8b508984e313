"""What of a design cannot be built, found while it is built."""

from __future__ import annotations


class BuildFault(ValueError):
    """A size that the parts do not come together with.

    Attributes:
        field: dotted path as in the scene file, such as ``house.chimneys.0.height``.
        given: what stands there, as the scene's writer would say it.
        allowed: what could stand there.
    """

    def __init__(self, field: str, given: str, allowed: str) -> None:
        self.field, self.given, self.allowed = field, given, allowed
        super().__init__(f"{field}: given {given}, allowed: {allowed}")
