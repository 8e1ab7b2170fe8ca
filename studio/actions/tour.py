"""The short tour that is offered on the first visit."""

from django.utils import timezone

from studio.models import Person
from studio.roles import require, require_in_person


def put_tour_away(*, by: Person) -> None:
    """It is not offered to them again. A matter of their screen, not a record: it has no history row."""
    require(by, "studio.see")
    require_in_person(by)
    Person.objects.filter(pk=by.pk, tour_put_away_at=None).update(tour_put_away_at=timezone.now())
