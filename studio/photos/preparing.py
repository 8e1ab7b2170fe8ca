"""Take a file in: limits, kind, date taken, upright sizes; or a refusal that says what to do."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import IO, Any

from django.core.files import File
from PIL import ExifTags, Image

from .opening import open_picture
from .refusing import MAX_MEGABYTES, PhotoRefused
from .sizing import plain_srgb, served_sizes, upright
from .sniffing import kind_of


@dataclass(frozen=True)
class PreparedPhoto:
    """A photo ready to be stored. Width and height are of the upright original, in pixels."""

    kind: str
    width: int
    height: int
    taken_at: datetime | None
    sha256: str
    sizes: Mapping[str, bytes] = field(repr=False)
    original: bytes = field(repr=False)


def prepare(file: IO[bytes] | File, *, name: str) -> PreparedPhoto:
    """Read a sent file and return it prepared; `name` only tells several refusals apart.

    `taken_at` is the camera's own clock (naive), None when the file does not say.
    Raises PhotoRefused, and nothing else, for whatever is in the file.
    """
    file.seek(0)
    raw = file.read(MAX_MEGABYTES * 1_000_000 + 1)
    file.seek(0)
    try:
        return _prepared(raw)
    except PhotoRefused as refusal:
        refusal.name = name
        raise
    except Exception as problem:  # damaged files make the readers raise almost anything
        raise PhotoRefused("unreadable", name=name) from problem


def _prepared(raw: bytes) -> PreparedPhoto:
    if not raw:
        raise PhotoRefused("empty")
    if len(raw) > MAX_MEGABYTES * 1_000_000:
        raise PhotoRefused("too-heavy")
    kind = kind_of(raw)
    if kind is None:
        raise PhotoRefused("not-a-photo")
    picture, size = open_picture(raw, kind)
    with picture:
        # Decoded before Exif is read, which may decode too and hides what is wrong with the file.
        image = plain_srgb(picture)
        orientation, taken_at = _exif(picture)
    width, height = size[::-1] if orientation in (5, 6, 7, 8) else size
    return PreparedPhoto(
        kind=kind,
        width=width,
        height=height,
        taken_at=taken_at,
        sha256=hashlib.sha256(raw).hexdigest(),
        sizes=served_sizes(upright(image, orientation)),
        original=raw,
    )


def _exif(picture: Image.Image) -> tuple[int, datetime | None]:
    """Return orientation and date taken; a damaged Exif block is no reason to lose the photo.

    HEIC turns its picture by its own properties: its reader has done so and set the Exif orientation to 1.
    """
    try:
        exif = picture.getexif()
        orientation = exif.get(ExifTags.Base.Orientation, 1)
        taken = exif.get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.DateTimeOriginal)
    except Exception:
        return 1, None
    return orientation if orientation in range(1, 9) else 1, _moment(taken)


def _moment(text: Any) -> datetime | None:
    try:
        return datetime.strptime(text.strip(), "%Y:%m:%d %H:%M:%S")
    except (AttributeError, TypeError, ValueError):
        return None
