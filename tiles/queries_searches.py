"""Reads of saved searches."""

from typing import Any, Self

from django.db import models
from django.db.models import Q

from studio.roles import is_device, may


class SavedSearchQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """A person's own and what is shared, without those put away; a device sees what is shared."""
        if not may(person, "studio.see"):
            return self.none()
        shared = Q(is_shared=True)
        return self.filter(shared if is_device(person) else shared | Q(person=person.pk), archived_at=None)

    def editable_by(self, person: Any) -> Self:
        """The rule of `tiles.actions.searches.may_keep`, as a question to the database."""
        seen = self.visible_to(person)
        if is_device(person):
            return seen.none()
        return seen if may(person, "tile.change_any") else seen.filter(person=person.pk)
