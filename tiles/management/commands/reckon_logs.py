"""Works out anew every log whose stored cone is not what its readings give."""

from typing import Any

from django.core.management.base import BaseCommand

from tiles.actions.logs_anew import reckon_logs_anew
from tiles.models import FiringLog


class Command(BaseCommand):
    help = "Works out anew every firing's log whose cone is not what its readings give, as after new coefficients."

    def handle(self, **options: Any) -> None:
        stale = 0
        for firing, before in reckon_logs_anew():
            stale += 1
            if firing.log_cone != before:
                self.stdout.write(
                    f"{firing}: cone {before or '-'} by its log is now {firing.log_cone or '-'}."
                )
        self.stdout.write(f"{FiringLog.objects.count()} logs, {stale} of them worked out anew.")
