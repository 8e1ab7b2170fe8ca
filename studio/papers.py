"""Papers beside a record: a laboratory's report as PDF or picture, kept as it was sent under a random key.

They lie in the storage of the photos, so that a backup holds them too, and are only ever streamed by the service.
"""

import logging
import re
import secrets
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage import storages
from django.http import FileResponse, Http404
from django.utils.translation import gettext as _

from studio.errors import Refused
from studio.photos.sniffing import kind_of

MAX_MEGABYTES = 20
LONGEST_NAME = 120
KEY = re.compile(r"[0-9a-f]{32}\.(pdf|jpg|png|webp|heic)")
# What each looks like to a browser; a name or a content type that was sent proves nothing.
TYPES = {
    "pdf": "application/pdf",
    "jpg": "image/jpeg",
    "png": "image/png",
    "webp": "image/webp",
    "heic": "image/heic",
}
logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Paper:
    """A file that was read and looks like what it says; `extension` is of its content."""

    content: bytes
    extension: str
    name: str


def read_paper(file: Any, field: str = "file") -> Paper:
    """What was sent, by its first bytes. Refused says what is wrong with it. Slow: do it outside transactions."""
    if isinstance(file, Paper):
        return file
    if file.size > MAX_MEGABYTES * 1_000_000:
        said = _("This file is larger than %(most)s MB. Send a smaller copy.")
        raise Refused({field: said % {"most": MAX_MEGABYTES}})
    content = file.read()
    if not content:
        raise Refused({field: _("This file is empty. Choose the report again.")})
    picture = kind_of(content)
    if picture is None and not content.startswith(b"%PDF-"):
        raise Refused({field: _("This is neither a PDF nor a picture. Send a PDF, JPEG, PNG, WebP or HEIC.")})
    extension = {None: "pdf", "jpeg": "jpg"}.get(picture, picture or "")
    return Paper(content, extension, _name(getattr(file, "name", "") or "", extension))


def _name(sent: str, extension: str) -> str:
    """The last part of what it was called, without what no name should hold, ending as its content does."""
    stem = PurePosixPath(sent.replace("\\", "/")).stem
    plain = re.sub(r"[^\w .()+-]", "", stem).strip(" .")[: LONGEST_NAME - 5]
    return f"{plain or 'report'}.{extension}"


def store(paper: Paper) -> str:
    """Write it; return its new key."""
    key = f"{secrets.token_hex(16)}.{paper.extension}"
    storages["photos"].save(path_of(key), ContentFile(paper.content))
    return key


def forget(key: str) -> None:
    """Remove the file of a key whose record was never committed."""
    storages["photos"].delete(path_of(key))


def path_of(key: str) -> str:
    """Where it lies in the storage."""
    if not KEY.fullmatch(key):
        raise ValueError("not the key of a paper")
    return f"papers/{key[:2]}/{key}"


def is_there(key: str) -> bool:
    """Whether the file of a key is in the storage, for `doctor`."""
    return storages["photos"].exists(path_of(key))


def paper_answer(key: str, name: str) -> FileResponse:
    """The file, to be saved and not shown; ask first whether the person may have it."""
    if not key:
        raise Http404
    try:
        file = storages["photos"].open(path_of(key))
    except FileNotFoundError:
        logger.error("The file %s is missing from the storage", path_of(key))
        raise Http404 from None
    kind = TYPES[key.rpartition(".")[2]]
    response = FileResponse(file, as_attachment=True, filename=name, content_type=kind)
    response["Cache-Control"] = "private, no-store"
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response
