"""The history: everything for technicians, the record in hand for everybody who sees it."""

from collections.abc import Collection
from typing import Any, ClassVar
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404
from django.utils.translation import gettext as _
from rest_framework import serializers

from studio import registry
from studio.api.base import SEE, Reads
from studio.filters import ChangeFilter
from studio.models import Change
from studio.roles import NotAllowed, may


class ChangeOut(serializers.ModelSerializer):
    actor = serializers.UUIDField(source="actor_id", allow_null=True)
    before = serializers.DictField()
    after = serializers.DictField()

    class Meta:
        model = Change
        fields = [
            "id",
            "at",
            "actor",
            "actor_name",
            "via",
            "verb",
            "kind",
            "object_id",
            "object_text",
            "before",
            "after",
            "reason",
            "batch",
        ]

    def to_representation(self, change: Change) -> dict[str, Any]:
        shown = super().to_representation(change)
        for values in (shown["before"], shown["after"]):
            for name in self.context["kept_from"]:
                values.pop(name, None)
        return shown


class History(Reads):
    """One row for every write. A member names `kind` and `object` of a record that they may see."""

    acts: ClassVar = SEE
    model = Change
    serializer_class = ChangeOut
    filterset_class = ChangeFilter
    cursor_ordering = ("-at", "-id")
    lookup_value_converter = "int"
    # Of the one record that a member named; who sees everything reads everything.
    kept_from: Collection[str] = ()

    def rows(self, person: Any) -> QuerySet:
        return Change.objects.all()

    def filter_queryset(self, queryset: QuerySet) -> QuerySet:
        found = super().filter_queryset(queryset)
        self._visible(self.request.query_params.get("kind"), self.request.query_params.get("object"))
        return found

    def get_object(self) -> Change:
        change = super().get_object()
        self._visible(change.kind, change.object_id)
        return change

    def _visible(self, kind: str | None, object_id: Any) -> None:
        person = self.request.user
        if may(person, "history.see_all"):
            return
        if not (kind and object_id):
            raise NotAllowed(
                _("Name kind and object: the history of everything is for technicians and managers.")
            )
        known = registry.kinds.get(kind)
        record = known and known.record(person, UUID(str(object_id)))
        if known is None or record is None:
            raise Http404
        self.kept_from = known.kept_from(person, record)

    def get_serializer_context(self) -> dict[str, Any]:
        return {**super().get_serializer_context(), "kept_from": self.kept_from}
