"""Colour profiles for tests, put together by hand because no library here writes them."""

import struct


def rgb_profile(colorants: dict[bytes, tuple[float, float, float]], gamma: float) -> bytes:
    """A minimal ICC v2 display profile (layout: ICC.1:2001-04) from its colorants adapted to D50."""

    def xyz(values):
        return struct.pack(">3i", *(round(value * 65536) for value in values))

    d50, label = (0.9642, 1.0, 0.8249), b"made for a test\0"
    text = b"desc\0\0\0\0" + struct.pack(">I", len(label)) + label + bytes(78)
    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256)) + b"\0\0"
    tags = {b"desc": text, b"cprt": b"text\0\0\0\0none\0\0\0\0", b"wtpt": b"XYZ \0\0\0\0" + xyz(d50)}
    for channel, values in colorants.items():
        tags |= {channel + b"XYZ": b"XYZ \0\0\0\0" + xyz(values), channel + b"TRC": curve}
    table, body, start = b"", b"", 128 + 4 + 12 * len(tags)
    for name, value in tags.items():
        table += name + struct.pack(">II", start + len(body), len(value))
        body += value + bytes(-len(value) % 4)
    head = struct.pack(">II", start + len(body), 0) + b"\x02\x10\0\0mntrRGB XYZ " + bytes(12) + b"acsp"
    head += bytes(28) + xyz(d50)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body


# Worked out from the primaries of Display P3 (CSS Color 4, section 10.3) and opRGB (IEC 61966-2-5),
# both with white D65 (0.3127, 0.3290), adapted to D50 with the Bradford matrix (ICC.1:2001-04, annex E).
P3_COLORANTS = {
    b"r": (0.51512, 0.24119, -0.00105),
    b"g": (0.29198, 0.69224, 0.04188),
    b"b": (0.1571, 0.06657, 0.78407),
}
OPRGB_COLORANTS = {
    b"r": (0.60974, 0.31111, 0.01947),
    b"g": (0.20527, 0.62568, 0.06087),
    b"b": (0.14919, 0.06321, 0.74456),
}


def display_p3() -> bytes:
    """A Display P3 profile as phones write it, with gamma 2.2 in place of the sRGB curve."""
    return rgb_profile(P3_COLORANTS, 2.2)


def op_rgb() -> bytes:
    """An opRGB profile, the wide space that many cameras offer; gamma 563/256."""
    return rgb_profile(OPRGB_COLORANTS, 563 / 256)
