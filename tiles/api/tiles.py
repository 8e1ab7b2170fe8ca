"""Tiles: the aggregate of a tile with its layers, outcomes and photos, under one version."""

from typing import Any, ClassVar

from django.db.models import prefetch_related_objects
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from inventory.api.base import In, Out, PlaceRef
from inventory.models import Place
from inventory.walk import Walk
from studio.api.base import SEE, Resource
from studio.api.images import TakesPhotos
from studio.api.serializers import IdOf, NewId, PersonRef, Strict, checked
from tiles import actions
from tiles.actions.whole import change_tile_whole
from tiles.api.parts import (
    PARTS,
    LayerChange,
    LayerNew,
    LayerOut,
    OutcomeBackIn,
    OutcomeBackOut,
    OutcomeNew,
    OutcomeOut,
    PhotoNew,
    PhotoOut,
    TileFiringOut,
    ZoneOut,
)
from tiles.api.several import AnswerOut, SeveralTiles
from tiles.filters_wall import WallFilter
from tiles.models import ClayBody, Firing, Tile
from tiles.planning import findings_for, with_answers
from tiles.queries_hanging import hanging
from tiles.story import faults_as_noted

FIELDS = ["body", "form", "made_on", "place", "visibility", "remark"]


class BodyRef(Out):
    class Meta:
        model = ClayBody
        fields = ["id", "name"]


class TileOut(Out):
    body = BodyRef(allow_null=True)
    maker = PersonRef()
    place = PlaceRef(allow_null=True)
    hangs = serializers.SerializerMethodField(help_text="The whole way to its place, from the room on.")
    is_spoiled = serializers.BooleanField(help_text="A flag touches a layer, whenever it was raised.")
    is_kept_from_food = serializers.BooleanField()
    is_marked = serializers.BooleanField(help_text="Set aside because of a flag.")
    layers = LayerOut(many=True)
    zones = ZoneOut(many=True)
    outcomes = OutcomeOut(many=True)
    photos = PhotoOut(many=True)
    firings = TileFiringOut(source="tile_firings", many=True)
    answers = AnswerOut(source="acknowledgements", many=True)

    class Meta:
        model = Tile
        fields = [
            "id",
            "version",
            "created_at",
            "number",
            *FIELDS,
            "hangs",
            "run",
            "maker",
            "state",
            "cone",
            "cone_basis",
            "is_spoiled",
            "is_kept_from_food",
            "is_marked",
            "layers",
            "zones",
            "outcomes",
            "photos",
            "firings",
            "answers",
        ]

    def get_hangs(self, tile: Tile) -> str | None:
        if tile.place_id is None:
            return None
        # Once for all tiles of an answer.
        context: Any = self.context
        if "walk" not in context:
            context["walk"] = Walk.now()
        return context["walk"].words(tile.place_id)


class TileFields(In):
    body = IdOf(ClayBody, required=False, allow_null=True)
    place = IdOf(Place, required=False, allow_null=True)
    layers = LayerNew(many=True, required=False)


class TileChange(TileFields):
    """`layers` takes the place of all layers, from the clay outwards; only before the tile is fired."""

    class Meta:
        model = Tile
        fields = [*FIELDS, "state", "layers"]


class TileNew(NewId, TileFields):
    """A tile by the number that is written on it, with its layers from the clay outwards."""

    class Meta:
        model = Tile
        fields = ["id", "number", *FIELDS, "layers"]


class ReserveIn(Strict):
    count = serializers.IntegerField(min_value=1)
    body = IdOf(ClayBody, required=False, allow_null=True)
    made_on = serializers.DateField(required=False, allow_null=True)
    form = serializers.CharField(required=False, allow_blank=True, max_length=40)
    prefix = serializers.CharField(required=False, allow_blank=True, max_length=8)
    device = serializers.CharField(required=False, allow_blank=True, max_length=80)


class ReservedTile(Out):
    class Meta:
        model = Tile
        fields = ["id", "number", "version"]


class Reserved(serializers.Serializer):
    run = serializers.UUIDField()
    tiles = ReservedTile(many=True)


class FindingOut(serializers.Serializer):
    code = serializers.CharField()
    level = serializers.ChoiceField(["stop", "warn", "note"])
    sentence = serializers.CharField()
    field = serializers.CharField(allow_blank=True)
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]
    key = serializers.CharField(help_text="What it is answered by.")
    answer = AnswerOut(allow_null=True)


class Findings(serializers.Serializer):
    findings = FindingOut(many=True)


class FindingsOf(Strict):
    firing = IdOf(Firing, required=False)


OF_LOOK = [OpenApiParameter("outcome_id", {"type": "string", "format": "uuid"}, OpenApiParameter.PATH)]
OF_LAYER = [OpenApiParameter("layer_id", {"type": "string", "format": "uuid"}, OpenApiParameter.PATH)]


class Tiles(TakesPhotos, SeveralTiles, Resource):
    """The wall. PATCH and the parts need the version of the whole tile."""

    acts: ClassVar = {
        **SEE,
        **SeveralTiles.several_acts,
        **dict.fromkeys(
            [
                "create",
                "partial_update",
                "reserve",
                "add_layer",
                "change_layer",
                "remove_layer",
                "add_outcome",
                "take_look_back",
                "add_photo",
            ],
            "tile.log",
        ),
        "findings": "studio.see",
    }
    model = Tile
    serializer_class = TileOut
    filterset_class = WallFilter
    new_class, change_class, alter = TileNew, TileChange, change_tile_whole

    @property
    def cursor_ordering(self) -> tuple[str, ...]:
        return hanging(self.request.query_params)

    def rows(self, person: Any) -> Any:
        return Tile.objects.visible_to(person).for_the_wall().prefetch_related(*PARTS)

    @staticmethod
    def make(*, by: Any, layers: Any = (), **fields: Any) -> Tile:
        return actions.create_tile_whole(by=by, layers=list(layers), **fields)

    @extend_schema(request=ReserveIn, responses={201: Reserved})
    @action(detail=False, methods=["post"])
    def reserve(self, request: Any) -> Response:
        """A run of the next free numbers, for tiles just made or for a device without network."""
        tiles = actions.reserve_numbers(by=request.user, **self.input(ReserveIn))
        return Response(Reserved({"run": tiles[0].run_id, "tiles": tiles}).data, status=201)

    @extend_schema(request=LayerNew, responses={201: LayerOut})
    @action(detail=True, methods=["post"], url_path="layers")
    def add_layer(self, request: Any, pk: Any = None) -> Response:
        tile, version = self.get_object(), self.if_match(required=False)
        layer = actions.add_layer(by=request.user, tile=tile, version=version, **self.input(LayerNew))
        return self.part(tile, layer, LayerOut)

    @extend_schema(request=LayerChange, responses=LayerOut, parameters=OF_LAYER)
    @action(detail=True, methods=["patch"], url_path="layers/<uuid:layer_id>", url_name="layer")
    def change_layer(self, request: Any, pk: Any = None, layer_id: Any = None) -> Response:
        tile, version = self.get_object(), self.if_match()
        layer = get_object_or_404(tile.layers, pk=layer_id)
        values = self.changes(LayerChange)
        changed = actions.change_layer(by=request.user, layer=layer, values=values, version=version)
        return self.part(tile, changed, LayerOut, 200)

    @extend_schema(responses={204: None}, parameters=OF_LAYER)
    @change_layer.mapping.delete
    def remove_layer(self, request: Any, pk: Any = None, layer_id: Any = None) -> Response:
        tile, version = self.get_object(), self.if_match()
        layer = get_object_or_404(tile.layers, pk=layer_id)
        actions.remove_layer(by=request.user, layer=layer, version=version)
        return Response(status=204, headers=self.etag(tile))

    @extend_schema(request=OutcomeNew, responses={201: OutcomeOut})
    @action(detail=True, methods=["post"], url_path="outcomes")
    def add_outcome(self, request: Any, pk: Any = None) -> Response:
        tile, version = self.get_object(), self.if_match(required=False)
        outcome = actions.record_outcome(
            by=request.user, tile=tile, version=version, **self.input(OutcomeNew)
        )
        return self.part(tile, outcome, OutcomeOut)

    @extend_schema(request=OutcomeBackIn, responses=OutcomeBackOut, parameters=OF_LOOK)
    @action(
        detail=True,
        methods=["post"],
        url_path="outcomes/<uuid:outcome_id>/take-back",
        url_name="take-look-back",
    )
    def take_look_back(self, request: Any, pk: Any = None, outcome_id: Any = None) -> Response:
        """It was a mistake, such as a look at another tile. It counts for nothing any more."""
        tile, version = self.get_object(), self.if_match(required=False)
        outcome = get_object_or_404(tile.outcomes, pk=outcome_id)
        sent = self.input(OutcomeBackIn)
        back = actions.take_look_back(by=request.user, outcome=outcome, version=version, **sent)
        back.tile = tile
        prefetch_related_objects([back], faults_as_noted())
        return self.part(tile, back, OutcomeBackOut, 200)

    @extend_schema(request=PhotoNew, responses={201: PhotoOut})
    @action(detail=True, methods=["post"], url_path="photos", parser_classes=[MultiPartParser])
    def add_photo(self, request: Any, pk: Any = None) -> Response:
        """Multipart: JPEG, PNG, WebP or HEIC."""
        tile, version = self.get_object(), self.if_match(required=False)
        values = self.input(PhotoNew)
        file = self.sent_photo(values)
        photo = actions.add_photo(by=request.user, tile=tile, version=version, file=file, **values)
        return self.part(tile, photo, PhotoOut)

    @extend_schema(
        responses=Findings, parameters=[OpenApiParameter("firing", {"type": "string", "format": "uuid"})]
    )
    @action(detail=True)
    def findings(self, request: Any, pk: Any = None) -> Response:
        """What there is to say before it is fired: body and kiln first, then its layers."""
        tile = self.get_object()
        asked = checked(FindingsOf, request.query_params.dict(), context=self.get_serializer_context())
        found = findings_for(tile, firing=asked.get("firing"))
        return Response(Findings({"findings": with_answers(tile, found)}).data)
