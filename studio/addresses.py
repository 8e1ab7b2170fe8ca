"""Addresses that are handed on: written on paper, shown as a code, or sent to somebody."""

from typing import Any

from django.conf import settings


def handed_on(request: Any, path: str) -> str:
    """The whole address of `path`: the studio's public one, else the one under which this page was opened."""
    return f"{settings.PUBLIC_URL}{path}" if settings.PUBLIC_URL else request.build_absolute_uri(path)
