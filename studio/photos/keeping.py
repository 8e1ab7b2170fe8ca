"""Put prepared photos into a Django storage under random keys that never change, and read them again."""

import re
import secrets
from contextlib import suppress

from django.core.files.base import ContentFile, File
from django.core.files.storage import Storage

from .preparing import PreparedPhoto
from .sizing import SIZES

EXTENSIONS = {"jpeg": "jpg", "png": "png", "webp": "webp", "heic": "heic"}
KEY = re.compile(r"[0-9a-f]{32}")


def store(prepared: PreparedPhoto, storage: Storage) -> str:
    """Write the original and the served sizes; return the new key. What was written goes if a write fails."""
    key = secrets.token_hex(16)
    files = {f"original.{EXTENSIONS[prepared.kind]}": prepared.original}
    files |= {f"{size}.jpg": content for size, content in prepared.sizes.items()}
    try:
        for name, content in files.items():
            storage.save(f"{_folder(key)}/{name}", ContentFile(content))
    except Exception:
        forget(storage, key)
        raise
    return key


def open_size(storage: Storage, key: str, size: str) -> File:
    """Open a served size ('small', 'medium', 'large') for reading; ValueError for any other."""
    if size not in SIZES:
        raise ValueError(f"no such size: {size!r}")
    return storage.open(f"{_folder(key)}/{size}.jpg")


def open_original(storage: Storage, key: str, kind: str) -> File:
    """Open the untouched file as it was sent; it still carries its metadata, so check who asks."""
    return storage.open(f"{_folder(key)}/original.{EXTENSIONS[kind]}")


def names(key: str, kind: str) -> list[str]:
    """The names under which a photo's files lie in the storage."""
    return [f"{_folder(key)}/original.{EXTENSIONS[kind]}", *(f"{_folder(key)}/{size}.jpg" for size in SIZES)]


def forget(storage: Storage, key: str) -> None:
    """Remove all files of a key whose record was never committed; calling it twice does no harm."""
    names = [f"original.{extension}" for extension in EXTENSIONS.values()] + [f"{size}.jpg" for size in SIZES]
    for name in names:
        storage.delete(f"{_folder(key)}/{name}")
    with suppress(OSError):  # an emptied folder of the disk goes too; other storages have none
        storage.delete(_folder(key))


def _folder(key: str) -> str:
    if not KEY.fullmatch(key):
        raise ValueError("not the key of a photo")
    return f"photos/{key[:2]}/{key}"
