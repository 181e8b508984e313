"""From a board's contents to the bytes of a PDF, by Typst."""

from __future__ import annotations

import json
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from massing.present.board.subject import Contents

_HERE = Path(__file__).parent
TEMPLATE = "board.typ"
FONTS = _HERE / "fonts"


class TypesetError(RuntimeError):
    """The typesetter could not use a file it was given, such as a logo; one line."""


def typeset(contents: Contents) -> bytes:
    """The PDF, its fonts embedded. The same contents give the same bytes.

    Raises:
        TypesetError: a picture or logo that the typesetter cannot read.
        OSError: no room for the temporary files.
    """
    import typst

    year, month, day = contents.values["date"]
    stamp = datetime(year, month, day, tzinfo=UTC)
    with tempfile.TemporaryDirectory(prefix="massing-board-") as folder:
        root = Path(folder)
        (root / TEMPLATE).write_bytes((_HERE / TEMPLATE).read_bytes())
        (root / "board.json").write_text(json.dumps(contents.values), encoding="utf-8")
        for name, content in contents.files.items():
            (root / name).write_bytes(content)
        try:
            made = typst.compile(
                str(root / TEMPLATE),
                root=str(root),
                font_paths=[str(FONTS)],
                ignore_system_fonts=True,
                timestamp=int(stamp.timestamp()),
            )
        except typst.TypstError as fault:
            raise TypesetError(" ".join(str(fault).split())) from None
    assert isinstance(made, bytes)
    return made
