"""Look whether what is stored agrees with itself."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from studio.management.database import waiting_migrations
from studio.registry import doctor_checks


class Command(BaseCommand):
    help = "Compare stored figures with what they are worked out from, and look for missing files."

    def handle(self, *args: Any, **options: Any) -> None:
        if waiting_migrations():
            raise CommandError(
                "The database is older than this version: run `python manage.py migrate` first."
            )
        wrong = 0
        for name, check in doctor_checks:
            sentences = check()
            self.stdout.write(f"{'well ' if not sentences else 'WRONG'}  {name}")
            for sentence in sentences:
                self.stdout.write(f"       {sentence}")
            wrong += len(sentences)
        if wrong:
            many = "1 thing is" if wrong == 1 else f"{wrong} things are"
            raise CommandError(f"{many} wrong: see above.", returncode=1)
