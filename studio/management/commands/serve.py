"""Serve the studio with gunicorn; static files come from the service itself."""

import os
import sys
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from studio.management.database import migrate, waiting_migrations

THREADS = 4
# The API's page uses one of the sidecar's two viewers; the browsable API is switched off.
NOT_SERVED = ["rest_framework", "redoc"]


def collect_static() -> None:
    call_command("collectstatic", interactive=False, verbosity=0, ignore_patterns=NOT_SERVED)


def gunicorn_arguments(bind: str) -> list[str]:
    """The command line of the server process. Forwarded headers count only behind a proxy that the studio runs."""
    return [
        *[sys.executable, "-m", "gunicorn", "studio.wsgi:application"],
        *["--chdir", str(settings.BASE_DIR), "--bind", bind, "--preload", "--no-control-socket"],
        *["--worker-class", "gthread", "--workers", str(settings.WORKERS), "--threads", str(THREADS)],
        *["--forwarded-allow-ips", "*" if settings.SECURE_PROXY_SSL_HEADER else ""],
        *["--log-level", "info"],
    ]


def run(bind: str) -> None:
    """Hand this process over to gunicorn: a signal to it is a signal to the server."""
    sys.stdout.flush()
    arguments = gunicorn_arguments(bind)
    os.execv(arguments[0], arguments)  # noqa: S606 - no shell is wanted


class Command(BaseCommand):
    help = "Serve the studio, until it is stopped with Ctrl-C or SIGTERM."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--bind", default="127.0.0.1:8000", help="address and port, or unix:PATH")
        parser.add_argument("--migrate", action="store_true", help="bring the database up to date first")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["migrate"]:
            migrate()
        elif waiting := waiting_migrations():
            raise CommandError(
                f"The database is older than this version ({len(waiting)} migrations wait). With a backup made "
                "by the version before, run: python manage.py serve --migrate"
            )
        collect_static()
        run(options["bind"])
