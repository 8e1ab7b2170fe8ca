"""Write the whole studio into one file."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from studio.backups import NAME, keep_newest, write_backup
from studio.management.database import waiting_migrations


class Command(BaseCommand):
    help = "Write all records and photos into one .tar.gz that `restore` reads on any database and storage."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--to", help="folder (default: backups in the data folder)")
        parser.add_argument("--keep", type=int, help="afterwards keep only this many newest backups there")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["keep"] is not None and options["keep"] < 1:
            raise CommandError("--keep: keep at least 1.")
        folder = Path(options["to"] or settings.DATA_DIR / "backups").expanduser()
        if waiting_migrations():
            raise CommandError(
                "The database is older than this version. Make the backup with the version before, "
                "or bring it up to date first: python manage.py migrate"
            )
        try:
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            path = folder / NAME.format(stamp=timezone.now().strftime("%Y%m%d-%H%M%S"))
            manifest = write_backup(path)
        except OSError as error:
            raise CommandError(f"The backup cannot be written: {error.strerror or error}.") from error
        rows = sum(entry.get("rows", 0) for entry in manifest["files"].values())
        self.stdout.write(f"{path}: {rows} records and {manifest['photo_files']} photo files.")
        self.stdout.write(
            "It holds password hashes and private tiles: keep it where only you can read it. The secret key and "
            "tilekeep.env are not in it; without the key everybody logs in anew, and nothing else is lost."
        )
        if options["keep"]:
            for old in keep_newest(folder, options["keep"]):
                self.stdout.write(f"Removed {old.name}.")
