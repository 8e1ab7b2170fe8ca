"""Flags: raised on a fill, withdrawn or cleared here."""

from typing import Any, ClassVar

from django.http.response import HttpResponseBase
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from inventory import actions
from inventory.actions.spread import LIFTED
from inventory.api.base import BucketRef, In, Out
from inventory.api.glazes import WhyIn
from inventory.filters import FlagFilter
from inventory.models import Flag, FlagNote, FlagPhoto
from inventory.reach import spells
from studio.api.base import SEE, Reads
from studio.api.images import JsonOnlyInTrouble, SizeQuery, TakesPhotos
from studio.api.serializers import NewId, PersonRef, Strict, checked
from studio.photo_answers import sized_answer


class FlagNoteOut(Out):
    by = PersonRef()

    class Meta:
        model = FlagNote
        fields = ["id", "created_at", "text", "by"]


class FlagPhotoOut(Out):
    """Its picture is at `flags/{id}/photos/{photo_id}/`."""

    by = PersonRef()

    class Meta:
        model = FlagPhoto
        fields = ["id", "created_at", "width", "height", "by"]


class FlagOut(Out):
    """`origin` is the flag that this one came from, `through` the stock entry that brought it here."""

    fill = serializers.UUIDField(source="fill_id")
    raised_by = PersonRef()
    closed_by = PersonRef(allow_null=True)
    is_open = serializers.BooleanField()
    notes = FlagNoteOut(many=True)
    photos = FlagPhotoOut(many=True)
    origin = serializers.UUIDField(source="origin_id", allow_null=True)
    through = serializers.UUIDField(source="through_id", allow_null=True)

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
            "photos",
            "origin",
            "through",
        ]


class SpellOut(serializers.Serializer):
    """A fill that is touched from `since` (null: always) to `until` (null: to the end)."""

    fill = serializers.UUIDField(source="fill.pk")
    bucket = BucketRef(source="fill.bucket")
    since = serializers.DateTimeField(allow_null=True)
    until = serializers.DateTimeField(allow_null=True)
    flag = serializers.UUIDField(source="flag.pk")
    is_open = serializers.BooleanField(source="flag.is_open")
    poured_out_of = serializers.UUIDField(source="source.pk", default=None, allow_null=True)


class ReachOut(serializers.Serializer):
    """`is_lifted`: it never was so; then the fills are those that it had touched."""

    is_lifted = serializers.BooleanField()
    fills = SpellOut(many=True)


class FlagPhotoNew(NewId):
    photo = serializers.FileField(allow_empty_file=True)


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


OF_PHOTO = OpenApiParameter("photo_id", {"type": "string", "format": "uuid"}, OpenApiParameter.PATH)


class Flags(TakesPhotos, Reads):
    """What is wrong with a fill. Raise one by POST to the fill's own `flags`."""

    acts: ClassVar = {
        **SEE,
        "add_note": "flag.raise",
        "withdraw": "flag.withdraw_own",
        "clear": "flag.clear",
        "reach": "studio.see",
        "add_photo": "flag.raise",
        "image": "studio.see",
    }
    model = Flag
    serializer_class = FlagOut
    filterset_class = FlagFilter
    without_version = True

    def rows(self, person: Any) -> Any:
        return Flag.objects.visible_to(person).with_story()

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

    @extend_schema(responses=ReachOut)
    @action(detail=True)
    def reach(self, request: Any, pk: Any = None) -> Response:
        """The fills that it touches: its own first, then those that it reached through transfers."""
        flag = self.get_object()
        found = {"is_lifted": flag.outcome in LIFTED, "fills": spells(flag)}
        return Response(ReachOut(found).data)

    @extend_schema(request=FlagPhotoNew, responses={201: FlagPhotoOut})
    @action(detail=True, methods=["post"], url_path="photos", parser_classes=[MultiPartParser])
    def add_photo(self, request: Any, pk: Any = None) -> Response:
        """Multipart: JPEG, PNG, WebP or HEIC."""
        flag, values = self.get_object(), self.input(FlagPhotoNew)
        file = self.sent_photo(values)
        photo = actions.add_flag_photo(by=request.user, flag=flag, file=file, **values)
        return self.part(flag, photo, FlagPhotoOut)

    @extend_schema(parameters=[OF_PHOTO, SizeQuery], responses={(200, "image/*"): OpenApiTypes.BINARY})
    @action(
        detail=True,
        url_path="photos/<uuid:photo_id>",
        url_name="photo",
        content_negotiation_class=JsonOnlyInTrouble,
    )
    def image(self, request: Any, pk: Any = None, photo_id: Any = None) -> HttpResponseBase:
        """A JPEG without metadata. The file as sent may say where it was taken, and is served to nobody."""
        photo = get_object_or_404(self.get_object().photos, pk=photo_id)
        asked = checked(SizeQuery, request.query_params.dict())
        return sized_answer(request, photo.key, asked["size"])
