"""Works out anew every log whose stored cone is not what its readings give."""

from typing import Any

from django.core.management.base import BaseCommand

from tiles.actions.logs import reckon_log_anew
from tiles.logs_anew import not_as_reckoned
from tiles.models import FiringLog


class Command(BaseCommand):
    help = "Works out anew every firing's log whose cone is not what its readings give, as after new coefficients."

    def handle(self, **options: Any) -> None:
        stale = [log.firing for log in not_as_reckoned()]
        for firing in stale:
            before = firing.log_cone
            if reckon_log_anew(firing=firing):
                self.stdout.write(
                    f"{firing}: cone {before or '-'} by its log is now {firing.log_cone or '-'}."
                )
        self.stdout.write(f"{FiringLog.objects.count()} logs, {len(stale)} of them worked out anew.")
