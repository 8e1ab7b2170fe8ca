"""When things happened: never in the future."""

from datetime import datetime, timedelta

from django.utils import timezone
from django.utils.translation import gettext as _

from studio.errors import Refused

# A phone's clock may be ahead of the server's.
CLOCK_SLACK = timedelta(minutes=5)


def not_in_future(field: str, moment: datetime | None) -> None:
    if moment is not None and moment > timezone.now() + CLOCK_SLACK:
        raise Refused({field: _("This lies in the future. Give the moment at which it happened.")})
