"""System checks of the place: each with an id and a hint that says what to do."""

import os

from django.conf import settings
from django.core.checks import Error, Tags, Warning, register


@register(Tags.security)
def data_folder_is_private(app_configs, **kwargs):
    path = settings.DATA_DIR / "secret_key"
    if path.exists() and path.stat().st_mode & 0o077:
        return [
            Error(
                "The secret key can be read by other users of this machine.",
                hint=f"Run: chmod 600 {path.name} in the data folder.",
                id="studio.E001",
            )
        ]
    return []


@register(Tags.files)
def data_folder_is_writable(app_configs, **kwargs):
    if settings.DATA_DIR.exists() and not os.access(settings.DATA_DIR, os.W_OK):
        return [
            Error(
                "The data folder cannot be written.",
                hint="Give this user the right to write there, or name another folder in TILEKEEP_DATA_DIR.",
                id="studio.E002",
            )
        ]
    return []


@register(Tags.security, deploy=True)
def public_address_is_set(app_configs, **kwargs):
    if settings.PUBLIC_URL:
        return []
    return [
        Warning(
            "No public address is set: labels cannot be printed and cookies are not kept to https.",
            hint="Set TILEKEEP_PUBLIC_URL, or answer it in `manage.py setup`.",
            id="studio.W001",
        )
    ]


@register(Tags.security, deploy=True)
def debug_is_off(app_configs, **kwargs):
    if settings.DEBUG and settings.PUBLIC_URL.startswith("https://"):
        return [
            Error(
                "TILEKEEP_DEBUG is on for a public address: error pages would show the settings.",
                hint="Leave TILEKEEP_DEBUG out.",
                id="studio.E003",
            )
        ]
    return []


@register(Tags.security, deploy=True)
def proxy_is_declared(app_configs, **kwargs):
    if not settings.HTTPS or settings.BEHIND_PROXY:
        return []
    return [
        Warning(
            "The public address is https, but no proxy is declared: pages would redirect for ever.",
            hint="Set TILEKEEP_BEHIND_PROXY=yes when a proxy that you run sets X-Forwarded-Proto.",
            id="studio.W002",
        )
    ]
