"""Photos on their way into an app's records."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.core.files.storage import storages

from studio import photos
from studio.errors import Refused
from studio.models import StoredPhoto


def prepare_photo(file: Any) -> photos.PreparedPhoto:
    """Read and size a sent file; Refused names what is wrong with it. Slow, so do it outside transactions."""
    if isinstance(file, photos.PreparedPhoto):
        return file
    try:
        return photos.prepare(file, name=getattr(file, "name", "") or "")
    except photos.PhotoRefused as refused:
        raise Refused({"photo": refused.sentence}) from refused


@contextmanager
def kept(prepared: list[photos.PreparedPhoto]) -> Iterator[list[str]]:
    """The keys under which the files lie, in the same order; all are forgotten again if the block fails."""
    storage, keys = storages["photos"], []
    try:
        for photo in prepared:
            keys.append(photos.store(photo, storage))
        yield keys
    except BaseException:
        for key in keys:
            photos.forget(storage, key)
        raise


def stored(photo: photos.PreparedPhoto | StoredPhoto, key: str) -> dict[str, Any]:
    """The columns of a `StoredPhoto` whose files lie under `key`, of a prepared photo or of another record of it."""
    return {
        "key": key,
        "kind": photo.kind,
        "width": photo.width,
        "height": photo.height,
        "sha256": photo.sha256,
    }
