"""Read a backup into an empty studio."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from studio.backups import BackupRefused, restore_backup
from studio.management.database import migrate


class Command(BaseCommand):
    help = "Read a backup into an empty studio: also the way to another database or photo storage, and back."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file")

    def handle(self, *args: Any, **options: Any) -> None:
        migrate()
        try:
            manifest = restore_backup(Path(options["file"]).expanduser())
        except BackupRefused as refused:
            raise CommandError(str(refused)) from refused
        rows = sum(entry.get("rows", 0) for entry in manifest["files"].values())
        self.stdout.write(f"Restored {rows} records and {manifest['photo_files']} photo files.")
        self.stdout.write("Everybody logs in anew. `python manage.py doctor` looks it over.")
