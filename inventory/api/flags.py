"""Flags: raised on a fill, withdrawn or cleared here."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import In, Out
from inventory.api.glazes import WhyIn
from inventory.filters import FlagFilter
from inventory.models import Flag, FlagNote
from studio.api.base import SEE, Reads
from studio.api.serializers import NewId, PersonRef, Strict


class FlagNoteOut(Out):
    by = PersonRef()

    class Meta:
        model = FlagNote
        fields = ["id", "created_at", "text", "by"]


class FlagOut(Out):
    fill = serializers.UUIDField(source="fill_id")
    raised_by = PersonRef()
    closed_by = PersonRef(allow_null=True)
    is_open = serializers.BooleanField()
    notes = FlagNoteOut(many=True)

    class Meta:
        model = Flag
        fields = [
            "id",
            "created_at",
            "fill",
            "kind",
            "note",
            "since",
            "raised_by",
            "is_open",
            "outcome",
            "outcome_note",
            "put_right_at",
            "closed_at",
            "closed_by",
            "notes",
        ]


class FlagNew(NewId, In):
    class Meta:
        model = Flag
        fields = ["id", "kind", "note", "since"]


class NoteIn(Strict):
    text = serializers.CharField()


class ClearIn(Strict):
    outcome = serializers.ChoiceField(["mistaken", "put_right", "emptied"])
    note = serializers.CharField(required=False, allow_blank=True)
    put_right_at = serializers.DateTimeField(required=False, allow_null=True)


class Flags(Reads):
    """What is wrong with a fill. Raise one by POST to the fill's own `flags`."""

    acts: ClassVar = {
        **SEE,
        "add_note": "flag.raise",
        "withdraw": "flag.withdraw_own",
        "clear": "flag.clear",
    }
    model = Flag
    serializer_class = FlagOut
    filterset_class = FlagFilter
    without_version = True

    def rows(self, person: Any) -> Any:
        flags = Flag.objects.visible_to(person)
        return flags.select_related("raised_by", "closed_by").prefetch_related("notes__by")

    @extend_schema(request=NoteIn, responses={201: FlagOut})
    @action(detail=True, methods=["post"], url_path="notes")
    def add_note(self, request: Any, pk: Any = None) -> Response:
        flag = self.get_object()
        actions.add_note(by=request.user, flag=flag, **self.input(NoteIn))
        return self.answer(flag, 201)

    @extend_schema(request=WhyIn)
    @action(detail=True, methods=["post"])
    def withdraw(self, request: Any, pk: Any = None) -> Response:
        flag = self.get_object()
        return self.answer(actions.withdraw_flag(by=request.user, flag=flag, **self.input(WhyIn)))

    @extend_schema(request=ClearIn)
    @action(detail=True, methods=["post"])
    def clear(self, request: Any, pk: Any = None) -> Response:
        flag = self.get_object()
        return self.answer(actions.clear_flag(by=request.user, flag=flag, **self.input(ClearIn)))
