"""Photos of an unloading that are not sorted to their tiles yet."""

from typing import Any, ClassVar

from django.http import HttpResponseBase
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from inventory.api.base import Out
from studio.api.base import SEE, Reads
from studio.api.images import JsonOnlyInTrouble, SizeQuery, TakesPhotos
from studio.api.parsers import JSONParser
from studio.api.serializers import IdOf, NewId, Nothing, PersonRef, Strict, checked
from studio.photo_answers import sized_answer
from tiles.actions.loose import add_loose_photo, drop_loose_photo, pick_photo, unpick_photo
from tiles.api.parts import PhotoOut
from tiles.filters_loose import LooseFilter
from tiles.models import Firing, LoosePhoto, Outcome, Tile


class LooseOut(Out):
    """`tile` is null until it is sorted, and again after its pick was taken back."""

    firing = serializers.UUIDField(source="firing_id")
    tile = serializers.SerializerMethodField()
    by = PersonRef()

    class Meta:
        model = LoosePhoto
        fields = ["id", "created_at", "firing", "tile", "width", "height", "taken_at", "archived_at", "by"]

    @extend_schema_field(OpenApiTypes.UUID)
    def get_tile(self, loose: LoosePhoto) -> Any:
        return loose.photo.tile_id if loose.photo and loose.photo.archived_at is None else None


class LooseNew(NewId):
    firing = IdOf(Firing)
    photo = serializers.FileField()


class PickIn(Strict):
    tile = IdOf(Tile)
    outcome = IdOf(Outcome, required=False)


class LoosePhotos(TakesPhotos, Reads):
    """Whose tile it shows is not known yet, so its sender and technicians see it. Sent in one by one."""

    acts: ClassVar = {
        **SEE,
        "image": "studio.see",
        **dict.fromkeys(["create", "pick", "unpick", "drop"], "tile.log"),
    }
    model = LoosePhoto
    serializer_class = LooseOut
    filterset_class = LooseFilter
    without_version = True
    parser_classes = (MultiPartParser, JSONParser)
    photo_action = "create"

    def rows(self, person: Any) -> Any:
        return LoosePhoto.objects.visible_to(person).select_related("by", "firing", "photo__tile")

    @extend_schema(request={"multipart/form-data": LooseNew}, responses={201: LooseOut})
    def create(self, request: Any) -> Response:
        """Multipart: JPEG, PNG, WebP or HEIC, of a firing that is unloaded."""
        values = self.input(LooseNew)
        file = self.sent_photo(values)
        made = add_loose_photo(by=request.user, file=file, **values)
        # Not read again: a device may send one and does not see it afterwards.
        return Response(self.get_serializer(made).data, status=201)

    @extend_schema(parameters=[SizeQuery], responses={(200, "image/*"): OpenApiTypes.BINARY})
    @action(detail=True, content_negotiation_class=JsonOnlyInTrouble)
    def image(self, request: Any, pk: Any = None) -> HttpResponseBase:
        """A JPEG without metadata."""
        loose = self.get_object()
        asked = checked(SizeQuery, request.query_params.dict())
        return sized_answer(request, loose.key, asked["size"])

    @extend_schema(request=PickIn, responses={201: PhotoOut})
    @action(detail=True, methods=["post"])
    def pick(self, request: Any, pk: Any = None) -> Response:
        """The tile that it shows: it becomes a photo of that tile."""
        photo = pick_photo(by=request.user, loose=self.get_object(), **self.input(PickIn))
        return Response(PhotoOut(photo, context=self.get_serializer_context()).data, status=201)

    @extend_schema(request=Nothing, responses=LooseOut)
    @action(detail=True, methods=["post"])
    def unpick(self, request: Any, pk: Any = None) -> Response:
        """Take the pick back: the photo goes off the tile and waits to be sorted."""
        self.input(Nothing)
        return self.answer(unpick_photo(by=request.user, loose=self.get_object()))

    @extend_schema(request=Nothing, responses=LooseOut)
    @action(detail=True, methods=["post"])
    def drop(self, request: Any, pk: Any = None) -> Response:
        """It shows none of the tiles. Its files stay."""
        self.input(Nothing)
        return self.answer(drop_loose_photo(by=request.user, loose=self.get_object()))
