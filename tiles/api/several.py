"""What is done with several tiles in one write: all of them, or none."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory.api.base import Out
from inventory.models import Place
from studio.api.serializers import IdOf, PersonRef, Strict
from tiles import actions
from tiles.actions.making import MARKS
from tiles.actions.many import MOST_TILES
from tiles.api.parts import LayerChange
from tiles.models import Acknowledgement, Firing, Tile


class TileRef(Out):
    class Meta:
        model = Tile
        fields = ["id", "number", "version"]


class TilesOut(serializers.Serializer):
    """The tiles with their new versions, in the order in which they were sent."""

    tiles = TileRef(many=True)


class TilesIn(Strict):
    tiles = serializers.ListField(child=IdOf(Tile), min_length=1, max_length=MOST_TILES)


class HangIn(TilesIn):
    """`place` null takes them down."""

    place = IdOf(Place, allow_null=True)


class MarkIn(TilesIn):
    mark = serializers.ChoiceField([str(mark) for mark in MARKS])
    reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class GlazeIn(TilesIn):
    """`layers` from the clay outwards; `versions` are the tiles' versions as they were read, by id."""

    layers = LayerChange(many=True)
    versions = serializers.DictField(child=serializers.IntegerField(min_value=0), required=False)
    reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class RepeatedLayer(LayerChange):
    """What is different of the layer at `position` of the source, counted from 1."""

    position = serializers.IntegerField(min_value=1)
    leave_out = serializers.BooleanField(required=False)

    class Meta(LayerChange.Meta):
        fields = ["position", "leave_out", *LayerChange.Meta.fields]


class RepeatIn(Strict):
    source = IdOf(Tile)  # type: ignore[assignment]
    changes = RepeatedLayer(many=True, required=False)
    reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class AnswerIn(Strict):
    """`key` as the findings give it; `firing` if it was asked for one."""

    key = serializers.CharField(max_length=60)
    reason = serializers.CharField(max_length=200)
    firing = IdOf(Firing, required=False)


class AnswerOut(Out):
    """A finding that somebody answered, with what it said."""

    key = serializers.CharField(source="about")
    by = PersonRef()

    class Meta:
        model = Acknowledgement
        fields = ["id", "created_at", "key", "code", "level", "sentence", "reason", "by"]


class SeveralTiles:
    """The acts for several tiles, and those that put several layers on one; part of the resource Tiles."""

    several_acts: ClassVar = {
        "hang": "tile.hang",
        **dict.fromkeys(["mark", "glaze", "repeat", "answer_finding"], "tile.log"),
    }

    def _tiles(self: Any, tiles: list[Tile]) -> Response:
        now = Tile.objects.in_bulk([tile.pk for tile in tiles])
        return Response(TilesOut({"tiles": [now[tile.pk] for tile in tiles]}).data)

    @extend_schema(request=HangIn, responses=TilesOut)
    @action(detail=False, methods=["post"])
    def hang(self: Any, request: Any) -> Response:
        """Hang tiles on a board or hook. Moving a board moves its tiles, because they name only the board."""
        sent = self.input(HangIn)
        actions.hang(by=request.user, **sent)
        return self._tiles(sent["tiles"])

    @extend_schema(request=MarkIn, responses=TilesOut)
    @action(detail=False, methods=["post"])
    def mark(self: Any, request: Any) -> Response:
        """Bisqued, lost, broken, or found again."""
        sent = self.input(MarkIn)
        actions.mark_tiles(by=request.user, **sent)
        return self._tiles(sent["tiles"])

    @extend_schema(request=GlazeIn, responses=TilesOut)
    @action(detail=False, methods=["post"])
    def glaze(self: Any, request: Any) -> Response:
        """The same layers on each of the tiles."""
        sent = self.input(GlazeIn)
        by_id = sent.pop("versions", {})
        versions = {tile.pk: by_id[str(tile.pk)] for tile in sent["tiles"] if str(tile.pk) in by_id}
        actions.glaze_many(by=request.user, versions=versions, **sent)
        return self._tiles(sent["tiles"])

    @action(detail=True, methods=["post"])
    def repeat(self: Any, request: Any, pk: Any = None) -> Response:
        """The layers of another tile on this one, with what `changes` says of single layers."""
        tile, version = self.get_object(), self.if_match(required=False)
        sent = self.input(RepeatIn)
        changed = {}
        for row in sent.pop("changes", []):
            position, is_out = row.pop("position"), row.pop("leave_out", False)
            changed[position] = None if is_out else row
        actions.repeat_tile(by=request.user, tile=tile, version=version, changed=changed, **sent)
        return self.answer(tile, 201)

    @extend_schema(request=AnswerIn, responses={201: AnswerOut})
    @action(detail=True, methods=["post"], url_path="answers", url_name="answer")
    def answer_finding(self: Any, request: Any, pk: Any = None) -> Response:
        """Answer one finding with a reason, which is kept with the tile."""
        tile, version = self.get_object(), self.if_match(required=False)
        kept = actions.acknowledge(by=request.user, tile=tile, version=version, **self.input(AnswerIn))
        return self.part(tile, kept, AnswerOut)
