"""Saved searches of the wall."""

from typing import Any, ClassVar

from inventory.api.base import In, Out
from inventory.api.glazes import Archivable
from studio.api.base import SEE
from studio.api.serializers import NewId, PersonRef
from tiles import actions
from tiles.models import SavedSearch

FIELDS = ["name", "query", "is_shared"]


class SearchOut(Out):
    """`query` is a query string that /tiles/ and the wall's page both take."""

    person = PersonRef()

    class Meta:
        model = SavedSearch
        fields = ["id", "version", "created_at", "person", *FIELDS, "archived_at"]


class SearchChange(In):
    class Meta:
        model = SavedSearch
        fields = FIELDS


class SearchNew(NewId, SearchChange):
    class Meta(SearchChange.Meta):
        fields = ["id", *FIELDS]


class SavedSearches(Archivable):
    """Your own, and those that others share."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "partial_update", "archive"], "search.keep")}
    model = SavedSearch
    serializer_class = SearchOut
    new_class, make = SearchNew, actions.save_search
    change_class, alter = SearchChange, actions.change_search
    put_away = actions.archive_search

    def rows(self, person: Any) -> Any:
        return SavedSearch.objects.visible_to(person).select_related("person")

    def represent(self, record: Any) -> dict:
        """Put away it is no longer in the list, but it is what was just done."""
        return self.get_serializer(record).data
