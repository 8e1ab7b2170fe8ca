"""Checks of the place itself, for `manage.py doctor`."""

from collections.abc import Iterable
from typing import Any

from django.conf import settings
from django.core.files.storage import storages

from studio import photos
from studio.models import Person, Studio
from studio.roles import Role


def secret_key_is_private() -> list[str]:
    path = settings.DATA_DIR / "secret_key"
    if path.exists() and path.stat().st_mode & 0o077:
        return ["The secret key can be read by other users of this machine. Run: chmod 600 secret_key"]
    return []


def files_exist(kept: Iterable[tuple[str, Any]]) -> list[str]:
    """Every photo's original and served sizes are in the storage. `kept`: whose it is, and the record."""
    storage, wrong = storages["photos"], []
    for whose, photo in kept:
        missing = [name for name in photos.names(photo.key, photo.kind) if not storage.exists(name)]
        if missing:
            wrong.append(f"A photo of {whose} lacks {len(missing)} of its files, such as {missing[0]}.")
    return wrong


def public_address_is_set() -> list[str]:
    """The demo's address is known when it is served, so the demo needs none."""
    if settings.PUBLIC_URL or Studio.current().is_demo:
        return []
    return ["No public address is set, so no labels can be printed. Set TILEKEEP_PUBLIC_URL."]


def somebody_manages() -> list[str]:
    if Person.objects.filter(role=Role.MANAGER, is_active=True).exists():
        return []
    return ["Nobody is manager. Run: python manage.py setup"]
