"""What is wrong with a scene, in one line: file, line, field, given, allowed."""

from __future__ import annotations

from pathlib import Path


class DesignError(ValueError):
    """A field whose value cannot be built.

    Attributes:
        field: dotted path as in the scene file, such as ``porch.width``.
        given: what stands there, as the scene's writer would say it.
        allowed: what could stand there.
    """

    def __init__(self, field: str, given: object, allowed: str) -> None:
        self.field = field
        self.given = str(given)
        self.allowed = allowed
        super().__init__(f"{field}: given {given}, allowed: {allowed}")


class SceneError(ValueError):
    """A scene file that cannot be used; its text is the one line to print.

    Attributes:
        file: the scene file.
        line: counted from one; ``None`` where the file as a whole is at fault.
        detail: field, given and allowed, or what is wrong with the file.
        field: steps to the field at fault, as in the file; empty for the file as a whole.
    """

    def __init__(
        self,
        file: Path | str,
        line: int | None,
        detail: object,
        field: tuple[str | int, ...] = (),
    ) -> None:
        self.file = Path(file)
        self.line = line
        self.field = field
        self.detail = " ".join(str(detail).split())
        place = f"{self.file}:{line}" if line else str(self.file)
        super().__init__(f"{place}: {self.detail}")
