"""A file of a controller as text: which bytes it is written in, and what is no text at all."""

import codecs
import re
from typing import Any

MAX_MEGABYTES = 25
# Two rows of readings are the least from which anything can be worked out.
FEWEST_ROWS = 2
_CONTROLS = re.compile(rb"[\x00-\x08\x0b\x0e-\x19\x1b-\x1f]")
_BOMS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
# A workbook is a ZIP file with these names in it, an older one an OLE compound file.
_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
_IN_WORKBOOKS = (b"[Content_Types].xml", b"opendocument.spreadsheet")
_ARCHIVES = (_ZIP, b"\x1f\x8b", b"7z\xbc\xaf", b"Rar!")


class LogFileError(ValueError):
    """A file that cannot be read as a log: `code` says why, `params` what was found."""

    def __init__(self, code: str, **params: Any) -> None:
        super().__init__(code)
        self.code, self.params = code, params


def text_of(raw: bytes) -> str:
    """The text of a file: UTF-8 or UTF-16 with its mark or without, else Latin-1 (as Windows writes it).

    Raises LogFileError: empty, too_heavy, workbook, archive, binary.

    >>> text_of("t;°C".encode("utf-16")), text_of("t;°C".encode("latin-1"))
    ('t;°C', 't;°C')
    """
    if len(raw) > MAX_MEGABYTES * 1_000_000:
        raise LogFileError("too_heavy", megabytes=MAX_MEGABYTES)
    if not raw.strip(b" \t\r\n\0\xef\xbb\xbf"):
        raise LogFileError("empty")
    if raw.startswith(_OLE) or (raw.startswith(_ZIP) and any(name in raw for name in _IN_WORKBOOKS)):
        raise LogFileError("workbook")
    if raw.startswith(_ARCHIVES):
        raise LogFileError("archive")
    for mark, encoding in _BOMS:
        if raw.startswith(mark):
            return _decoded(raw, encoding)
    if (wide := _wide(raw[:2000])) is not None:
        return _decoded(raw, wide)
    # Some instruments end a file with a few noughts; a picture or a program is full of them.
    head = raw.rstrip(b"\0")[:100_000]
    if len(_CONTROLS.findall(head)) > len(head) // 200:
        raise LogFileError("binary")
    raw = _CONTROLS.sub(b"", raw)
    try:
        return raw.decode()
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _wide(head: bytes) -> str | None:
    """UTF-16 without its mark: of plain characters every other byte is nought."""
    half = len(head) // 2
    if half < 4:
        return None
    if head[1::2].count(0) > 0.8 * half and head[0::2].count(0) == 0:
        return "utf-16-le"
    if head[0::2].count(0) > 0.8 * half and head[1::2].count(0) == 0:
        return "utf-16-be"
    return None


def _decoded(raw: bytes, encoding: str) -> str:
    try:
        return raw.decode(encoding)
    except UnicodeDecodeError as error:
        raise LogFileError("binary") from error
