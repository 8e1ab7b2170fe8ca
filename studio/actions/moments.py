"""When things happened: not in the future, and not before any studio's record begins."""

from datetime import date, datetime, timedelta

from django.utils import timezone
from django.utils.translation import gettext as _

from studio.errors import Refused

# A phone's clock may be ahead of the server's.
CLOCK_SLACK = timedelta(minutes=5)
# A year typed wrong (0024 for 2024) is far from every other one.
FIRST_YEAR = 1900
FURTHEST_PLAN = timedelta(days=5 * 366)


def happened(field: str, when: date | datetime | None, do: str = "") -> None:
    """Refuse a day or moment at which it cannot have happened. `do`: what to give instead, as a sentence."""
    if when is None:
        return
    is_moment = isinstance(when, datetime)
    latest = timezone.now() + CLOCK_SLACK if is_moment else timezone.localdate()
    if when > latest:
        do = do or (
            _("Give the moment at which it happened.") if is_moment else _("Give the day on which it was.")
        )
        raise Refused({field: _("This lies in the future. %(do)s") % {"do": do}})
    _likely_year(field, when)


def planned(field: str, day: date | None) -> None:
    """Refuse a day for which nobody plans; one that is over may be planned late."""
    if day is None:
        return
    if day > timezone.localdate() + FURTHEST_PLAN:
        raise Refused({field: _("This is more than five years away. Look at the year.")})
    _likely_year(field, day)


def _likely_year(field: str, when: date) -> None:
    if when.year < FIRST_YEAR:
        raise Refused({field: _("This lies before %(year)s. Look at the year.") % {"year": FIRST_YEAR}})
