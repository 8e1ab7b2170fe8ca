"""Every error of the API as a problem document (RFC 9457): what is wrong, what to do, field by field."""

import logging
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import IntegrityError
from django.http import Http404, HttpRequest, JsonResponse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import exceptions, status
from rest_framework.response import Response
from rest_framework.views import set_rollback

from studio.errors import Refused, VersionConflict

log = logging.getLogger(__name__)
MEDIA_TYPE = "application/problem+json"
TITLES = {
    400: gettext_lazy("This cannot be used as it stands"),
    401: gettext_lazy("Log in first"),
    403: gettext_lazy("Not allowed"),
    404: gettext_lazy("Not found"),
    405: gettext_lazy("Not served here"),
    406: gettext_lazy("Only JSON is served"),
    409: gettext_lazy("In conflict with something else"),
    412: gettext_lazy("Somebody else changed this meanwhile"),
    413: gettext_lazy("Too large"),
    415: gettext_lazy("Send JSON"),
    422: gettext_lazy("This key belongs to another request"),
    428: gettext_lazy("Say which version you changed"),
    429: gettext_lazy("Too many requests"),
}


class PreconditionRequired(exceptions.APIException):
    status_code = status.HTTP_428_PRECONDITION_REQUIRED
    default_detail = gettext_lazy('Send If-Match with the ETag that you read, such as If-Match: "3".')


class KeyReused(exceptions.APIException):
    status_code = status.HTTP_422_UNPROCESSABLE_ENTITY
    default_detail = gettext_lazy("This Idempotency-Key was used for a different request. Use a new key.")


def document(code: int, detail: str = "", errors: list | None = None, **more: Any) -> dict:
    """The members of RFC 9457, and `errors`: [{field, sentence}]."""
    body: dict = {"type": "about:blank", "title": str(TITLES.get(code, "Error")), "status": code, **more}
    if detail:
        body["detail"] = detail
    if errors is not None:
        body["errors"] = errors
    return body


def flat(detail: Any, path: str = "") -> list[dict]:
    """DRF's nested error detail as [{field, sentence}]; the field of a part reads `layers.1.coats`."""
    if isinstance(detail, dict):
        return [row for key, value in detail.items() for row in flat(value, _join(path, str(key)))]
    if isinstance(detail, list):
        nested = any(isinstance(item, dict | list) for item in detail)
        return [
            row
            for i, item in enumerate(detail)
            for row in flat(item, _join(path, str(i)) if nested else path)
        ]
    return [{"field": path, "sentence": str(detail)}]


def _join(path: str, key: str) -> str:
    if key in ("non_field_errors", ""):
        return path
    return f"{path}.{key}" if path else key


def handle(error: Exception, context: dict) -> Response | None:
    """DRF's exception handler. None leaves a programming error to Django (500)."""
    headers = {}
    if isinstance(error, Refused):
        code, body = 400, document(400, str(error), flat(error.problems))
    elif isinstance(error, VersionConflict):
        code = 412
        body = document(412, str(error), your_version=error.yours, current_version=error.current)
        headers["ETag"] = f'"{error.current}"'
        view = context.get("view")
        if view is not None and hasattr(view, "represent") and view.owns(error.record):
            body["current"] = view.represent(error.record)
    elif isinstance(error, exceptions.ValidationError):
        rows = flat(error.detail)
        code, body = 400, document(400, " ".join(r["sentence"] for r in rows), rows)
    elif isinstance(error, Http404):
        code, body = 404, document(404, _("There is nothing here under this address."))
    elif isinstance(error, PermissionDenied):
        code, body = 403, document(403, str(error) or _("Your role does not reach here."))
    elif isinstance(error, IntegrityError):
        # The actions check before they write: only two writers at the same moment come as far as this.
        log.warning("two writers at once", exc_info=error)
        code, body = (
            409,
            document(409, _("Somebody wrote the same thing at this moment. Read it, then try again.")),
        )
    elif isinstance(error, exceptions.APIException):
        code = error.status_code
        rows = flat(error.detail) if isinstance(error.detail, dict | list) else None
        body = document(code, " ".join(r["sentence"] for r in rows) if rows else str(error.detail), rows)
        if getattr(error, "auth_header", None):
            headers["WWW-Authenticate"] = error.auth_header
        if getattr(error, "wait", None):
            headers["Retry-After"] = str(int(error.wait))
    else:
        return None
    set_rollback()
    return Response(body, status=code, headers=headers, content_type=MEDIA_TYPE)


def plain_response(request: HttpRequest, code: int, detail: str) -> JsonResponse:
    """A problem document outside DRF, for addresses under /api/ that no view serves."""
    return JsonResponse(document(code, detail), status=code, content_type=MEDIA_TYPE)
