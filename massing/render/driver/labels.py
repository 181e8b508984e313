"""Words inside picture files, put in without touching the picture."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path

from massing.files import write_by

_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8"
_WORDS = (b"tEXt", b"zTXt", b"iTXt", b"tIME")
_COMMENT = 0xFE
_SCAN = 0xDA


def write_metadata(path: Path, metadata: Mapping[str, str]) -> None:
    """Make ``metadata`` the only words in a PNG (iTXt chunks) or JPEG (one comment).

    What the renderer noted of its own run goes, so that the same picture is the same file.
    Other kinds of file are left alone.
    """
    data = path.read_bytes()
    if data.startswith(_PNG):
        header, *rest = _png_chunks(data)
        texts = [_chunk(b"iTXt", _itxt(key, value)) for key, value in metadata.items()]
        kept = [chunk for chunk in rest if chunk[4:8] not in _WORDS]
        path.write_bytes(b"".join([_PNG, header, *texts, *kept]))
    elif data.startswith(_JPEG):
        kept = [part for part in _jpeg_parts(data) if part[1] != _COMMENT]
        if metadata:
            text = "\n".join(f"{key}: {value}" for key, value in metadata.items()).encode("utf-8")
            first = sum(1 for part in kept if 0xE0 <= part[1] <= 0xEF)
            kept.insert(first, b"\xff\xfe" + struct.pack(">H", len(text) + 2) + text)
        path.write_bytes(b"".join([_JPEG, *kept]))


def relabel(path: Path, metadata: Mapping[str, str]) -> None:
    """Change the words in a finished file, which stays whole; see :func:`write_metadata`."""

    def write(temporary: Path) -> None:
        temporary.write_bytes(path.read_bytes())
        write_metadata(temporary, metadata)

    write_by(path, write)


def _png_chunks(data: bytes) -> Iterator[bytes]:
    at = len(_PNG)
    while at < len(data):
        end = at + 12 + struct.unpack(">I", data[at : at + 4])[0]
        yield data[at:end]
        at = end


def _chunk(kind: bytes, body: bytes) -> bytes:
    checksum = struct.pack(">I", zlib.crc32(kind + body))
    return struct.pack(">I", len(body)) + kind + body + checksum


def _itxt(key: str, value: str) -> bytes:
    return key.encode("latin-1") + b"\0\0\0\0\0" + value.encode("utf-8")


def _jpeg_parts(data: bytes) -> Iterator[bytes]:
    """Segments after the start marker; the scan and all that follows as the last one."""
    at = len(_JPEG)
    while data[at + 1] != _SCAN:
        end = at + 2 + struct.unpack(">H", data[at + 2 : at + 4])[0]
        yield data[at:end]
        at = end
    yield data[at:]
