"""Who tried to log in, from where: the two things by which failures are counted."""

import unicodedata
from ipaddress import ip_address
from typing import Any

from django.conf import settings
from django.http import HttpRequest


def name_tried(request: HttpRequest, credentials: dict[str, Any] | None = None) -> str:
    """The log-in name as it is looked up: `Wren`, ` wren` and `WREN` share their failures."""
    name = (credentials or {}).get("username") or request.POST.get("username", "")
    return unicodedata.normalize("NFKC", name).strip().casefold()


def address_of(request: HttpRequest) -> str:
    """The address that asks. Behind the studio's own proxy it is the last one that the proxy wrote down.

    Without a declared proxy X-Forwarded-For is anybody's word and is not read.
    """
    remote = request.META.get("REMOTE_ADDR", "")
    if not settings.BEHIND_PROXY:
        return remote
    last = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip()
    try:
        return str(ip_address(last))
    except ValueError:
        return remote
