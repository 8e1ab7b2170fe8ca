"""Photo files for tests: a drawn test tile as JPEG, PNG, WebP or HEIC, and files that must be refused.

`jpeg(size=(900, 1500), orientation=6, gps=True)` is the *upright* size: the stored pixels are turned so
that a reader which obeys the Orientation tag shows the tile hanging upright. Everything is deterministic.
`BAD_FILES` maps a file name to `(code of the refusal, maker of the bytes)`.
"""

import base64
import io
import random
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

from PIL import ExifTags, Image, ImageDraw, PngImagePlugin

WALL = (150, 150, 150)
CLAY = (201, 176, 146)
GLAZES = {
    "celadon": (122, 148, 128),
    "tenmoku": (52, 33, 26),
    "shino": (214, 168, 132),
    "blue": (60, 86, 122),
    "white": (226, 222, 212),
}
# What has to be done to an upright picture so that the given Orientation turns it upright again
# (CIPA DC-008, Exif: tag 0x0112).
STORED = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
COMMENT = b"Millrace Clay Co-op, kiln room"
XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><dc:creator>Millrace member</dc:creator></x:xmpmeta>'


def picture(
    size: tuple[int, int] = (900, 1500), *, lower: str = "celadon", upper: str = "tenmoku", seed: int = 1
) -> Image.Image:
    """A clay tile on grey with two glazes that overlap in a band, a punched hole and some specks."""
    width, height = size
    image = Image.new("RGB", size, WALL)
    draw = ImageDraw.Draw(image)
    left, top, right, bottom = width * 0.12, height * 0.07, width * 0.88, height * 0.93
    draw.rounded_rectangle((left, top, right, bottom), radius=min(size) * 0.05, fill=CLAY)
    over = tuple((2 * a + b) // 3 for a, b in zip(GLAZES[upper], GLAZES[lower], strict=True))
    bands = ((0.22, 0.48, GLAZES[upper]), (0.48, 0.60, over), (0.60, 0.86, GLAZES[lower]))
    for start, end, colour in bands:
        draw.rectangle((left, height * start, right, height * end), fill=colour)
    chance = random.Random(seed)
    for _ in range(160):
        x, y = chance.uniform(left, right), chance.uniform(height * 0.22, height * 0.86)
        r, shade = min(size) * chance.uniform(0.001, 0.006), chance.choice([(90, 58, 40), (236, 228, 210)])
        draw.ellipse((x - r, y - r, x + r, y + r), fill=shade)
    for _ in range(12):  # runs of the lower edge
        x, r = chance.uniform(left + width * 0.05, right - width * 0.05), width * 0.025
        end = height * (0.86 + chance.uniform(0, 0.03))
        draw.rounded_rectangle((x - r, height * 0.84, x + r, end), radius=r, fill=GLAZES[lower])
    hole = min(size) * 0.05
    draw.ellipse((width / 2 - hole, height * 0.13 - hole, width / 2 + hole, height * 0.13 + hole), fill=WALL)
    return image


def exif(*, orientation: int | None = None, gps: bool = False, taken: str | None = None) -> bytes:
    """An Exif block; the place is 0°N 0°E, in the sea; `taken` as '2026:03:14 09:26:53'."""
    block = Image.Exif()
    if orientation is not None:
        block[ExifTags.Base.Orientation] = orientation
    if taken:
        block.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    if gps:
        block[ExifTags.Base.Make] = "Millrace Camera"
        block.get_ifd(ExifTags.IFD.GPSInfo).update({1: "N", 2: (0.0, 0.0, 1.0), 3: "E", 4: (0.0, 0.0, 1.0)})
    return block.tobytes() if len(block) or taken or gps else b""


def _saved(
    image: Image.Image,
    format: str,
    orientation: int | None,
    gps: bool,
    taken: str | None,
    icc: bytes | None,
    **options,
) -> bytes:
    if orientation in STORED:
        image = image.transpose(STORED[orientation])
    out = io.BytesIO()
    block = exif(orientation=orientation, gps=gps, taken=taken)
    image.save(out, format, **({"exif": block} if block else {}), icc_profile=icc, **options)
    return out.getvalue()


def jpeg(
    size: tuple[int, int] = (900, 1500),
    *,
    image: Image.Image | None = None,
    orientation: int | None = None,
    gps: bool = False,
    taken: str | None = None,
    icc: bytes | None = None,
    quality: int = 90,
    progressive: bool = False,
) -> bytes:
    """A JPEG of the tile (or of `image`, in any mode JPEG knows); with `gps` also a comment and XMP."""
    extra = {"comment": COMMENT, "xmp": XMP} if gps else {}
    image = image or picture(size)
    return _saved(
        image, "JPEG", orientation, gps, taken, icc, quality=quality, progressive=progressive, **extra
    )


def png(
    size: tuple[int, int] = (900, 1500),
    *,
    image: Image.Image | None = None,
    orientation: int | None = None,
    gps: bool = False,
    taken: str | None = None,
    icc: bytes | None = None,
) -> bytes:
    """A PNG of the tile (or of `image`, in any mode PNG knows); with `gps` also text chunks."""
    texts = PngImagePlugin.PngInfo()
    if gps:
        texts.add_text("Comment", COMMENT.decode())
        texts.add_itxt("XML:com.adobe.xmp", XMP.decode())
    return _saved(image or picture(size), "PNG", orientation, gps, taken, icc, pnginfo=texts)


def webp(
    size: tuple[int, int] = (900, 1500),
    *,
    image: Image.Image | None = None,
    orientation: int | None = None,
    gps: bool = False,
    taken: str | None = None,
    icc: bytes | None = None,
    animated: bool = False,
    lossless: bool = False,
) -> bytes:
    """A WebP of the tile (or of `image`); `animated` adds a second frame that is plain red."""
    image = image or picture(size)
    extra: dict = {"xmp": XMP} if gps else {}
    if animated:
        extra |= {"save_all": True, "append_images": [Image.new("RGB", image.size, "red")], "duration": 100}
    return _saved(image, "WEBP", orientation, gps, taken, icc, quality=90, lossless=lossless, **extra)


def apng(size: tuple[int, int] = (90, 150)) -> bytes:
    """An animated PNG whose second frame is plain red."""
    out = io.BytesIO()
    picture(size).save(out, "PNG", save_all=True, append_images=[Image.new("RGB", size, "red")])
    return out.getvalue()


def heic() -> bytes:
    """The tile at 300 x 500 as HEIC, stored lying and turned upright by its rotation property.

    It carries Exif with a place and the date 2026:03:14 09:26:53. Kept as text because nothing among
    the dependencies writes HEIC; tests/files/README.md says how it was made.
    """
    return base64.b64decode((Path(__file__).parent / "files" / "tile.heic.b64").read_text())


def png_chunk(kind: bytes, body: bytes) -> bytes:
    """One PNG chunk: length, kind, body, checksum (W3C PNG, section 5.3)."""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def raw_png(
    size: tuple[int, int], rows: bytes, *, depth: int = 8, colour: int = 2, extra: bytes = b"", level: int = 6
) -> bytes:
    """A PNG put together by hand: `rows` is the filtered data, `extra` stands before it."""
    header = struct.pack(">IIBBBBB", *size, depth, colour, 0, 0, 0)
    data = png_chunk(b"IHDR", header) + extra + png_chunk(b"IDAT", zlib.compress(rows, level))
    return b"\x89PNG\r\n\x1a\n" + data + png_chunk(b"IEND", b"")


def png16(size: tuple[int, int] = (90, 150)) -> bytes:
    """The tile as RGB with sixteen bits a channel (which Pillow cannot write)."""
    image, (width, height) = picture(size), size
    wide = bytes(half for byte in image.tobytes() for half in (byte, 0x55))
    rows = b"".join(b"\0" + wide[y * width * 6 : (y + 1) * width * 6] for y in range(height))
    return raw_png(size, rows, depth=16)


def png_bomb(side: int = 30_000) -> bytes:
    """A well-formed one-bit PNG of a few hundred bytes a million pixels: huge only when decoded."""
    squeeze, row = zlib.compressobj(9), bytes((side + 7) // 8 + 1)
    data = b"".join(squeeze.compress(row) for _ in range(side)) + squeeze.flush()
    header = struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    chunks = png_chunk(b"IHDR", header) + png_chunk(b"IDAT", data) + png_chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + chunks


def jpeg_claiming(width: int, height: int) -> bytes:
    """A small JPEG whose frame header (SOF0, ITU-T T.81 B.2.2) claims another size."""
    raw = jpeg((64, 64))
    at = raw.index(b"\xff\xc0")
    return raw[: at + 5] + struct.pack(">HH", height, width) + raw[at + 9 :]


def webp_claiming(width: int, height: int) -> bytes:
    """An animated WebP whose canvas (VP8X, RFC 9649) claims another size."""
    raw = webp((64, 64), animated=True)
    sides = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    return raw[:24] + sides + raw[30:]


def jpeg_of_many_scans(scans: int = 5000) -> bytes:
    """A progressive JPEG that repeats its last scan, to keep a decoder busy."""
    raw = jpeg((64, 64), progressive=True)
    last = raw.rindex(b"\xff\xda")
    return raw[:last] + raw[last:-2] * scans + raw[-2:]


def _text_chunk_bomb() -> bytes:
    squeezed = zlib.compress(bytes(300_000_000), 1)
    body = b"Comment\0\x01\0\0\0" + squeezed
    return raw_png((64, 64), (b"\0" + bytes(192)) * 64, extra=png_chunk(b"iTXt", body))


def _gif() -> bytes:
    out = io.BytesIO()
    picture((90, 150)).save(out, "GIF")
    return out.getvalue()


def crashing_heic() -> bytes:
    """A HEIC that crashes pi_heif 1.4.0: the type of its XMP item is not UTF-8."""
    return heic().replace(b"application/rdf", b"\x8cpplication/rdf")


def _avif_name_only() -> bytes:
    return b"\0\0\0\x1cftypavif\0\0\0\0avifmif1miaf" + bytes(200)


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="90" height="150"><rect width="90" height="150"/></svg>'

BAD_FILES: dict[str, tuple[str, Callable[[], bytes]]] = {
    "empty.jpg": ("empty", lambda: b""),
    "text.jpg": ("not-a-photo", lambda: b"Tile 312 came out too shiny.\n" * 40),
    "drawing.svg": ("not-a-photo", lambda: SVG),
    "moving.gif": ("not-a-photo", _gif),
    "paper.pdf": (
        "not-a-photo",
        lambda: b"%PDF-1.4\n1 0 obj<</Type/Catalog>>endobj\n",
    ),
    "archive.jpg": ("not-a-photo", lambda: b"PK\x03\x04" + bytes(200)),
    "other.avif": ("not-a-photo", _avif_name_only),
    "first-bytes.jpg": ("unreadable", lambda: b"\xff\xd8\xff\xe0"),
    "cut-quarter.jpg": ("unreadable", lambda: jpeg((300, 500))[: len(jpeg((300, 500))) // 4]),
    "cut-half.jpg": ("unreadable", lambda: jpeg((300, 500))[: len(jpeg((300, 500))) // 2]),
    "cut-near-end.jpg": ("unreadable", lambda: jpeg((300, 500))[:-40]),
    "cut-progressive.jpg": ("unreadable", lambda: jpeg((300, 500), progressive=True)[:-40]),
    "cut.png": ("unreadable", lambda: png((300, 500))[:-400]),
    "cut.webp": ("unreadable", lambda: webp((300, 500))[:-400]),
    "cut.heic": ("unreadable", lambda: heic()[:-400]),
    "rubbish.heic": ("unreadable", lambda: heic()[:32] + random.Random(7).randbytes(4000)),
    "rubbish.png": ("unreadable", lambda: png((90, 150))[:60] + random.Random(7).randbytes(4000)),
    "crashing.heic": ("unreadable", crashing_heic),
    "many-scans.jpg": ("unreadable", jpeg_of_many_scans),
    "lying.png": ("unreadable", lambda: raw_png((5000, 5000), (b"\0" + bytes(192)) * 64)),
    "text-bomb.png": ("unreadable", _text_chunk_bomb),
    "bomb.png": ("too-large", png_bomb),
    "lying.webp": ("too-large", lambda: webp_claiming(16_000, 16_000)),
    "lying.jpg": ("too-large", lambda: jpeg_claiming(65_000, 65_000)),
    "long.jpg": ("too-large", lambda: jpeg(image=Image.new("L", (12_001, 40)))),
    "many-pixels.png": ("too-large", lambda: png(image=Image.new("1", (8_000, 7_501)))),
    "one-pixel.png": ("too-small", lambda: png(image=Image.new("RGB", (1, 1)))),
    "thin.jpg": ("too-small", lambda: jpeg(image=Image.new("RGB", (31, 400)))),
    "heavy.jpg": ("too-heavy", lambda: jpeg((90, 150)) + bytes(26_000_000)),
}


def bad(name: str) -> bytes:
    """The bytes of one bad file of the table."""
    return BAD_FILES[name][1]()
