"""What a file is, by its first bytes alone: a name or a content type proves nothing."""

import re

# Brands of ISO/IEC 23008-12 (HEIF) whose pictures are HEVC; the general ones only say 'some HEIF'.
HEVC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs"}
GENERAL_BRANDS = {b"mif1", b"mif2", b"msf1"}
# A JPEG marker that begins a segment or ends the picture (ITU-T T.81, table B.1); inside the coded data
# a 0xFF byte is always followed by 0x00 or a restart marker.
JPEG_MARKER = re.compile(rb"\xff([\x02-\xcf\xd9-\xfe])")


def kind_of(raw: bytes) -> str | None:
    """Return 'jpeg', 'png', 'webp' or 'heic', or None for anything else.

    >>> kind_of(b"GIF89a") is None
    True
    >>> kind_of(bytes.fromhex("ffd8ffe0"))
    'jpeg'
    """
    if raw.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if raw.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if raw[:4] == b"RIFF" and raw[8:12] == b"WEBP":
        return "webp"
    if raw[4:8] == b"ftyp" and _is_hevc(raw):
        return "heic"
    return None


def webp_size(raw: bytes) -> tuple[int, int] | None:
    """Return width and height from a WebP header (RFC 9649), or None when it has none.

    Needed because the decoder sets aside the whole canvas as soon as it is opened.
    """
    chunk = raw[12:16]
    if chunk == b"VP8X":
        return 1 + _little(raw[24:27]), 1 + _little(raw[27:30])
    if chunk == b"VP8 ":
        return _little(raw[26:28]) & 0x3FFF, _little(raw[28:30]) & 0x3FFF
    if chunk == b"VP8L":
        bits = _little(raw[21:25])
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    return None


def jpeg_scans(raw: bytes) -> int:
    """Count the scans of a JPEG: each one makes the decoder walk the whole picture again."""
    at, scans = 2, 0
    while (found := JPEG_MARKER.search(raw, at)) and found[1] != b"\xd9":
        scans += found[1] == b"\xda"
        length = int.from_bytes(raw[found.end() : found.end() + 2], "big")
        at = found.end() + max(length, 2)
    return scans


def _is_hevc(raw: bytes) -> bool:
    brands = raw[8 : min(int.from_bytes(raw[:4], "big"), 256)]
    major, others = brands[:4], {brands[i : i + 4] for i in range(8, len(brands), 4)}
    return major in HEVC_BRANDS or (major in GENERAL_BRANDS and bool(others & HEVC_BRANDS))


def _little(part: bytes) -> int:
    return int.from_bytes(part, "little")
