"""Open a picture of a known kind without decoding it, and hold it against the limits."""

import subprocess
import sys
from io import BytesIO
from pathlib import Path

from PIL import ImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.WebPImagePlugin import WebPImageFile

from .refusing import MAX_MEGAPIXELS, MAX_SIDE, MIN_SIDE, PhotoRefused
from .sizing import SIZES
from .sniffing import jpeg_scans, webp_size

READERS: dict[str, type[ImageFile.ImageFile]] = {
    "jpeg": JpegImageFile,
    "png": PngImageFile,
    "webp": WebPImageFile,
}
HEIC_READER = Path(__file__).with_name("heic_reader.py")
HEIC_SECONDS = 60
# Encoders write about ten scans; a file with thousands is made to keep a decoder busy.
MAX_JPEG_SCANS = 100
MAX_PIXELS = MAX_MEGAPIXELS * 1_000_000


def open_picture(raw: bytes, kind: str) -> tuple[ImageFile.ImageFile, tuple[int, int]]:
    """Return the opened picture (the first frame where there are several) and its full size.

    The reader's class is called directly instead of `Image.open`: no other reader can be talked into trying,
    and our own limits come before the library's process-wide `MAX_IMAGE_PIXELS`, which stays as it is.
    """
    if kind == "heic":
        return _open_heic(raw)
    if kind == "webp" and (size := webp_size(raw)):
        _check(size)
    if kind == "jpeg" and jpeg_scans(raw) > MAX_JPEG_SCANS:
        raise PhotoRefused("unreadable")
    picture = READERS[kind](BytesIO(raw))
    return picture, _check(picture.size)


def _open_heic(raw: bytes) -> tuple[ImageFile.ImageFile, tuple[int, int]]:
    limits = (MAX_SIDE, MAX_PIXELS, SIZES["large"][0])
    done = subprocess.run(  # noqa: S603 our own program with three numbers
        [sys.executable, "-P", str(HEIC_READER), *map(str, limits)],
        input=raw,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        timeout=HEIC_SECONDS,
        check=True,
    )
    numbers, png = done.stdout.split(b"\n", 1)
    width, height = map(int, numbers.split())
    size = _check((width, height))
    return PngImageFile(BytesIO(png)), size


def _check(size: tuple[int, int]) -> tuple[int, int]:
    width, height = size
    if max(size) > MAX_SIDE or width * height > MAX_PIXELS:
        raise PhotoRefused("too-large", width=width, height=height)
    if min(size) < MIN_SIDE:
        raise PhotoRefused("too-small", width=width, height=height)
    return size
