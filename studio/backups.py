"""A backup is one .tar.gz: records as JSON lines, photo files, and a manifest with their counts and digests.

Records are written without any database's own form and photos through the storage API, so a restore may go to
another database and another storage. The manifest comes last: a file that was cut off has none.
"""

import gzip
import hashlib
import io
import json
import tarfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from django.apps import apps
from django.core import serializers
from django.core.files.base import ContentFile
from django.core.files.storage import Storage, storages
from django.core.management.color import no_style
from django.core.serializers.json import DjangoJSONEncoder
from django.db import DatabaseError, connection, models, transaction
from django.db.migrations.loader import MigrationLoader
from django.utils import timezone

NAME = "tilekeep-{stamp}.tar.gz"
FORMAT = 1
MANIFEST = "manifest.json"
PASSING = {"sessions", "axes", "contenttypes", "auth"}  # apps whose rows are not the studio's records
PASSING_MODELS = {"studio.idempotencyrecord"}
ROWS_AT_ONCE = 500


class BackupRefused(Exception):
    """A backup that is not read in. `str()` says why and what to do."""


class _Encoder(DjangoJSONEncoder):
    """Moments with all their digits: Django's own encoder drops microseconds."""

    def default(self, o: Any) -> Any:
        return o.isoformat() if isinstance(o, datetime) else super().default(o)


def kept_models() -> list[type[models.Model]]:
    """Every model of the studio's records, those that are pointed at before those that point at them."""
    waiting = [m for m in apps.get_models() if _is_kept(m)]
    ordered: list[type[models.Model]] = []
    while waiting:
        ready = [m for m in waiting if not _points_at(m) & set(waiting)] or waiting[:1]
        ordered += ready
        waiting = [m for m in waiting if m not in ready]
    return ordered


def _is_kept(model: type[models.Model]) -> bool:
    meta = model._meta
    return meta.managed and meta.app_label not in PASSING and meta.label_lower not in PASSING_MODELS


def _points_at(model: type[models.Model]) -> set[Any]:
    return {f.related_model for f in model._meta.fields if f.remote_field} - {model}


def schema() -> dict[str, str]:
    """The last migration of each app whose records are kept."""
    labels = {m._meta.app_label for m in kept_models()}
    leaves = MigrationLoader(connection).graph.leaf_nodes()
    return {app: name for app, name in leaves if app in labels}


def write_backup(path: Path) -> dict[str, Any]:
    """Write the backup at `path`, readable by its owner only; return its manifest."""
    draft = path.with_name(path.name + ".part")
    draft.touch(mode=0o600)
    manifest: dict[str, Any] = {"format": FORMAT, "made_at": timezone.now().isoformat(), "files": {}}
    try:
        # Photos are packed already; a low level spares most of the time.
        with (
            gzip.open(draft, "wb", compresslevel=3) as packed,
            tarfile.open(fileobj=packed, mode="w|") as tar,
        ):
            with transaction.atomic():
                _see_one_moment()
                manifest["schema"] = schema()
                for model in kept_models():
                    content, rows = _dump(model)
                    _add(tar, manifest, f"records/{model._meta.label_lower}.jsonl", content, rows=rows)
            # Photos never change and are kept for ever, so every one that the records name is still there.
            storage, count = storages["photos"], 0
            for name in photo_names(storage):
                with storage.open(name) as file:
                    _add(tar, manifest, f"photos/{name}", file.read())
                count += 1
            manifest["photo_files"] = count
            _add(tar, {"files": {}}, MANIFEST, json.dumps(manifest, indent=1).encode())
        draft.rename(path)
    finally:
        draft.unlink(missing_ok=True)
    return manifest


def _see_one_moment() -> None:
    """SQLite's transaction sees one moment already; PostgreSQL is asked to, unless a caller's has begun."""
    if connection.vendor == "postgresql" and len(connection.atomic_blocks) == 1:
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")


def _dump(model: type[models.Model]) -> tuple[bytes, int]:
    out, rows = io.StringIO(), model._base_manager.order_by("pk")
    serializers.serialize("jsonl", rows.iterator(ROWS_AT_ONCE), stream=out, cls=_Encoder)
    content = out.getvalue().encode()
    return content, content.count(b"\n")


def _add(tar: tarfile.TarFile, manifest: dict[str, Any], name: str, content: bytes, **facts: Any) -> None:
    info = tarfile.TarInfo(name)
    info.size, info.mode, info.mtime = len(content), 0o600, int(timezone.now().timestamp())
    tar.addfile(info, io.BytesIO(content))
    manifest["files"][name] = {"sha256": hashlib.sha256(content).hexdigest(), **facts}


def photo_names(storage: Storage, folder: str = "") -> Iterator[str]:
    """Every file of the storage by its name, folder by folder."""
    try:
        folders, files = storage.listdir(folder)
    except FileNotFoundError:
        return
    for name in sorted(files):
        yield f"{folder}/{name}" if folder else name
    for name in sorted(folders):
        yield from photo_names(storage, f"{folder}/{name}" if folder else name)


def keep_newest(folder: Path, count: int) -> list[Path]:
    """Remove all but the newest backups of a folder; return what was removed."""
    found = sorted(folder.glob(NAME.format(stamp="[0-9]*-[0-9]*")), reverse=True)
    for old in found[count:]:
        old.unlink()
    return found[count:]


def restore_backup(path: Path) -> dict[str, Any]:
    """Verify the backup, then read it into the empty, migrated studio; return its manifest."""
    manifest = verified_manifest(path)
    if any(model._base_manager.exists() for model in kept_models()):
        raise BackupRefused(
            "This studio holds records already. Restore into an empty one: name a new folder in "
            "TILEKEEP_DATA_DIR, or an empty database in TILEKEEP_DATABASE_URL."
        )
    if manifest["schema"] != schema():
        raise BackupRefused(
            "This backup was made by another version of Tilekeep. Restore it with that version "
            f"(its last migrations: {_said(manifest['schema'])}), then upgrade."
        )
    by_name = {f"records/{m._meta.label_lower}.jsonl": m for m in kept_models()}
    with transaction.atomic():
        for name, content in _members(path):
            if name in by_name:
                _load(by_name[name], content)
            elif name.startswith("photos/"):
                _put_photo(storages["photos"], name.removeprefix("photos/"), content)
        _count(manifest, by_name)
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), kept_models()):
                cursor.execute(statement)
    return manifest


def _said(migrations: dict[str, str]) -> str:
    return ", ".join(f"{app} {name}" for app, name in sorted(migrations.items()))


def _members(path: Path) -> Iterator[tuple[str, bytes]]:
    with tarfile.open(path, mode="r|gz") as tar:
        for info in tar:
            file = tar.extractfile(info)
            if file is None:
                raise BackupRefused("This file holds more than a backup does. Nothing was read from it.")
            yield info.name, file.read()


def verified_manifest(path: Path) -> dict[str, Any]:
    """Read the whole file once and hold every part against the manifest; BackupRefused when anything differs."""
    digests: dict[str, str] = {}
    manifest: dict[str, Any] | None = None
    try:
        for name, content in _members(path):
            if name == MANIFEST:
                manifest = json.loads(content)
            else:
                digests[name] = hashlib.sha256(content).hexdigest()
    except FileNotFoundError as error:
        raise BackupRefused(f"There is no file {path}.") from error
    except (OSError, EOFError, tarfile.TarError, ValueError, gzip.BadGzipFile) as error:
        raise BackupRefused(
            "This backup is damaged or was cut off. Nothing was read from it; take another."
        ) from error
    if manifest is None or manifest.get("format") != FORMAT:
        raise BackupRefused("This is no backup of Tilekeep, or it was cut off. Nothing was read from it.")
    if {name: entry["sha256"] for name, entry in manifest["files"].items()} != digests:
        raise BackupRefused(
            "This backup differs from its own list of contents. Nothing was read from it; take another."
        )
    return manifest


def _load(model: type[models.Model], content: bytes) -> None:
    rows = [found.object for found in serializers.deserialize("jsonl", io.StringIO(content.decode()))]
    if any(type(row) is not model for row in rows):
        raise BackupRefused("This backup mixes its records up. Nothing was read from it; take another.")
    try:
        model._base_manager.bulk_create(rows, batch_size=ROWS_AT_ONCE)
    except DatabaseError as error:
        raise BackupRefused(f"The {model._meta.verbose_name_plural} cannot be written: {error}") from error


def _put_photo(storage: Storage, name: str, content: bytes) -> None:
    """Photos lie under random names and never change: one that is there already is from an earlier attempt."""
    if storage.exists(name):
        with storage.open(name) as there:
            if there.read() == content:
                return
        raise BackupRefused(f"The photo storage holds another {name} already. Use an empty one.")
    storage.save(name, ContentFile(content))


def _count(manifest: dict[str, Any], by_name: dict[str, type[models.Model]]) -> None:
    for name, model in by_name.items():
        wanted = manifest["files"].get(name, {}).get("rows")
        if model._base_manager.count() != wanted:
            raise BackupRefused(
                f"{name}: {wanted} records were written down, but others were read. Nothing is kept."
            )


__all__ = [
    "NAME",
    "BackupRefused",
    "keep_newest",
    "kept_models",
    "photo_names",
    "restore_backup",
    "write_backup",
]
