"""A POST that carries Idempotency-Key is done once; a repeat gets the first answer again."""

import hashlib
import json
from collections.abc import Callable
from datetime import timedelta
from functools import partial
from typing import Any, ClassVar

from django.db import IntegrityError, transaction
from django.utils import timezone
from rest_framework import exceptions
from rest_framework.renderers import JSONRenderer
from rest_framework.response import Response

from studio.api.problems import KeyReused
from studio.models import IdempotencyRecord

LONGEST_KEY = 200
KEPT_FOR = timedelta(days=30)  # far longer than any client tries again
PURGED_AT_ONCE = 100
KEPT_HEADERS = ("ETag", "Location")


class Idempotent:
    """For a DRF view. The key's row and the work are one transaction: a second request with the key waits for the
    first, and a failed request leaves no key behind. Keys belong to a person, and are forgotten after 30 days.
    """

    # Parts of an answer that are shown once and are nowhere stored: a repeat reads null there.
    shown_once: ClassVar[tuple[str, ...]] = ()

    def prepare(self, request: Any) -> None:
        """Slow work that needs no database, done before the transaction of a keyed request begins."""

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)  # type: ignore[misc]
        key = request.headers.get("Idempotency-Key", "").strip()
        handler = getattr(self, "post", None)
        if request.method == "POST" and key and handler is not None:
            if len(key) > LONGEST_KEY:
                raise exceptions.ValidationError(
                    {"Idempotency-Key": [f"Use a key of at most {LONGEST_KEY} characters."]}
                )
            self.post = partial(self._once, key, handler)

    def _once(self, key: str, handler: Callable, request: Any, *args: Any, **kwargs: Any) -> Response:
        where = f"{request.method} {request.get_full_path()}"[:300]
        # Reads the whole body, so that a slow sender holds no lock.
        digest = digest_of(request.data)
        self.prepare(request)
        try:
            with transaction.atomic():
                record = IdempotencyRecord.objects.create(
                    person=request.user, key=key, method_and_path=where, digest=digest
                )
                response = handler(request, *args, **kwargs)
                body = json.loads(JSONRenderer().render(response.data) or "null")
                if isinstance(body, dict):
                    body |= {name: None for name in self.shown_once if name in body}
                record.body = body
                record.status = response.status_code
                record.headers = {k: v for k, v in response.headers.items() if k in KEPT_HEADERS}
                record.save()
                _forget_old_ones()
                return response
        except IntegrityError:
            kept = IdempotencyRecord.objects.filter(person=request.user, key=key).first()
            if kept is None:
                raise
        if (kept.method_and_path, kept.digest) != (where, digest):
            raise KeyReused
        headers = {**kept.headers, "Idempotency-Replayed": "true"}
        return Response(kept.body, status=kept.status, headers=headers)


def _forget_old_ones() -> None:
    """At each keyed POST a few answers go that nobody will ask for again; what another request takes away is passed."""
    old = IdempotencyRecord.objects.select_for_update(skip_locked=True).filter(
        created_at__lt=timezone.now() - KEPT_FOR
    )
    IdempotencyRecord.objects.filter(pk__in=list(old.values_list("pk", flat=True)[:PURGED_AT_ONCE])).delete()


def digest_of(data: Any) -> str:
    """Of the parsed body: the order of JSON members or a new multipart boundary makes no difference."""
    if hasattr(data, "lists"):
        data = [[name, [_file_or_text(value) for value in values]] for name, values in sorted(data.lists())]
    return hashlib.sha256(json.dumps(data, sort_keys=True, default=str).encode()).hexdigest()


def _file_or_text(value: Any) -> Any:
    if not hasattr(value, "chunks"):
        return str(value)
    sums = hashlib.sha256()
    for chunk in value.chunks():
        sums.update(chunk)
    value.seek(0)
    return {"file": sums.hexdigest()}
