"""Whether the service can work: for a container's or a proxy's check."""

import logging
from pathlib import Path
from tempfile import TemporaryFile

from django.contrib.auth.decorators import login_not_required
from django.core.files.storage import storages
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

log = logging.getLogger(__name__)


def database() -> bool:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
        return cursor.fetchone() == (1,)


def migrations() -> bool:
    executor = MigrationExecutor(connection)
    return not executor.migration_plan(executor.loader.graph.leaf_nodes())


def photos() -> bool:
    """A folder takes a byte; a bucket elsewhere answers a question (writing there on every check would cost)."""
    storage = storages["photos"]
    location = getattr(storage, "base_location", None)
    if location is None:
        storage.exists("healthz")
        return True
    Path(location).mkdir(parents=True, exist_ok=True)
    with TemporaryFile(dir=location) as file:
        file.write(b"x")
        file.flush()
    return True


@login_not_required
@never_cache
@require_safe
def healthz(request: HttpRequest) -> JsonResponse:
    """200 or 503, with 'ok' or 'failing' per part. Why is in the log only: anybody may ask this page."""
    parts = {}
    for check in (database, migrations, photos):
        try:
            works = check()
        except Exception:
            log.exception("healthz: %s", check.__name__)
            works = False
        parts[check.__name__] = "ok" if works else "failing"
    healthy = set(parts.values()) == {"ok"}
    return JsonResponse({"status": "ok" if healthy else "failing", **parts}, status=200 if healthy else 503)
