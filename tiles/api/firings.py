"""Firings: plan, load, fire, unload, and read the witness cones."""

from typing import Any, ClassVar

from django.db.models import Prefetch
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory.api.base import In, Out
from studio.api.base import SEE, Resource
from studio.api.serializers import IdOf, NewId, Strict
from tiles import actions
from tiles.actions.many import MOST_TILES
from tiles.actions.stops import stopped_in
from tiles.api.marks import SetAsideOut
from tiles.api.pieces import PieceOut
from tiles.api.schedules import SegmentJson
from tiles.api.several import TileRef
from tiles.filters import FiringFilter
from tiles.models import Firing, Kiln, Piece, Schedule, Tile, TileFiring, WitnessCone
from tiles.queries_marks import set_aside, standing_marks
from tiles.witness_words import contradiction_words

FIELDS = ["kiln", "kind", "target_cone", "atmosphere", "planned_on", "schedule", "remark"]
WITNESS_FIELDS = ["position", "cone", "cone_type", "bend_degrees"]


class KilnRef(Out):
    class Meta:
        model = Kiln
        fields = ["id", "name"]


class WitnessOut(Out):
    class Meta:
        model = WitnessCone
        fields = ["id", *WITNESS_FIELDS]


class LoadedOut(Out):
    """A tile in this firing, as far as the person may see it."""

    tile = TileRef()

    class Meta:
        model = TileFiring
        fields = ["tile", "position", "cone", "cone_basis", "cone_below", "override_reason"]


class StoppedOut(serializers.Serializer):
    """Something in the load that its body or the kiln is outside the cone of; `reason` once a technician gave one."""

    what = serializers.CharField()
    sentences = serializers.ListField(child=serializers.CharField())
    reason = serializers.CharField()


class FiringOut(Out):
    """`stops` are of the load as bodies and kiln are now, of the tiles that the person may see.

    `contradictions` say where two witness cones cannot both be right.
    """

    kiln = KilnRef()
    plan = SegmentJson(many=True)
    pieces = PieceOut(source="pieces_in", many=True)
    stops = serializers.SerializerMethodField()
    set_aside = serializers.SerializerMethodField()
    witness_cones = WitnessOut(many=True)
    contradictions = serializers.SerializerMethodField()
    tiles = LoadedOut(source="tile_firings", many=True)

    class Meta:
        model = Firing
        fields = [
            "id",
            "version",
            "created_at",
            "number",
            *FIELDS,
            "plan",
            "plan_name",
            "state",
            "started_at",
            "unloaded_at",
            "log_cone",
            "witness_cones",
            "contradictions",
            "tiles",
            "pieces",
            "stops",
            "set_aside",
        ]

    @extend_schema_field(StoppedOut(many=True))
    def get_stops(self, firing: Firing) -> Any:
        found = stopped_in(firing, firing.tile_firings.all(), firing.pieces_in)  # type: ignore[attr-defined]
        return StoppedOut(found, many=True).data

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_contradictions(self, firing: Firing) -> list[str]:
        return contradiction_words(firing)

    def get_set_aside(self, firing: Firing) -> SetAsideOut(many=True):  # type: ignore[valid-type]
        loaded: Any = firing.tile_firings.all()
        marks = [mark for row in loaded for mark in row.tile.flag_marks.all()]
        return SetAsideOut(set_aside(marks), many=True).data


class FiringChange(In):
    """`plan_from` is a schedule whose segments it takes over; `plan` are segments of its own, none at all in []."""

    kiln = IdOf(Kiln)
    plan = SegmentJson(many=True, required=False)
    plan_from = IdOf(Schedule, required=False)

    class Meta:
        model = Firing
        fields = [*FIELDS, "plan", "plan_from"]


class FiringNew(NewId, FiringChange):
    class Meta(FiringChange.Meta):
        fields = ["id", *FIELDS, "plan", "plan_from"]


class WitnessIn(In):
    class Meta:
        model = WitnessCone
        fields = WITNESS_FIELDS


class WitnessesIn(Strict):
    """All of them: they take the place of what was written."""

    witness_cones = WitnessIn(many=True)


class LoadManyIn(Strict):
    """All of the tiles into one position, or none."""

    tiles = serializers.ListField(child=IdOf(Tile), allow_empty=False, max_length=MOST_TILES)
    position = serializers.CharField(required=False, allow_blank=True, max_length=40)
    override_reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class OverrideIn(Strict):
    """Why a tile or a piece stays in that its body or the kiln is outside the cone of: one of the two."""

    tile = IdOf(Tile, required=False)
    piece = IdOf(Piece, required=False)
    reason = serializers.CharField(max_length=200)

    def validate(self, data: dict[str, Any]) -> dict[str, Any]:
        if ("tile" in data) == ("piece" in data):
            raise serializers.ValidationError({"tile": [_("Name either a tile or a piece.")]})
        return data


class BackIn(Strict):
    reason = serializers.CharField(max_length=200)


class LoadIn(Strict):
    """`override_reason`: a technician may load a tile into a firing outside its body's cone, and says why."""

    tile = IdOf(Tile)
    position = serializers.CharField(required=False, allow_blank=True, max_length=40)
    override_reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class TakeOutIn(Strict):
    tile = IdOf(Tile)


class MoveIn(Strict):
    state = serializers.ChoiceField(Firing.State.choices)
    at = serializers.DateTimeField(required=False)
    reason = serializers.CharField(required=False, allow_blank=True)


class Firings(Resource):
    """One run of a kiln. The software never commands a kiln: `move` writes down what somebody did."""

    acts: ClassVar = {
        **SEE,
        **dict.fromkeys(
            ["create", "partial_update", "witness_cones", "move", "step_back", "override"], "firing.change"
        ),
        **dict.fromkeys(["load", "load_many", "take_out"], "firing.load"),
    }
    model = Firing
    serializer_class = FiringOut
    filterset_class = FiringFilter
    new_class, make = FiringNew, actions.plan_firing
    change_class, alter = FiringChange, actions.change_firing

    def rows(self, person: Any) -> Any:
        seen = TileFiring.objects.filter(tile__in=Tile.objects.visible_to(person)).select_related(
            "tile__body"
        )
        seen = seen.prefetch_related(Prefetch("tile__flag_marks", standing_marks()))
        pieces = Piece.objects.filter(taken_out_at=None).select_related("owner", "body", "firing")
        return Firing.objects.select_related("kiln").prefetch_related(
            "witness_cones", Prefetch("tile_firings", seen), Prefetch("pieces", pieces, to_attr="pieces_in")
        )

    @extend_schema(request=WitnessesIn)
    @action(detail=True, methods=["put"], url_path="witness-cones")
    def witness_cones(self, request: Any, pk: Any = None) -> Response:
        firing, version = self.get_object(), self.if_match()
        cones = self.input(WitnessesIn)["witness_cones"]
        return self.answer(
            actions.set_witness_cones(by=request.user, firing=firing, cones=cones, version=version)
        )

    @extend_schema(request=LoadIn)
    @action(detail=True, methods=["post"])
    def load(self, request: Any, pk: Any = None) -> Response:
        firing, version = self.get_object(), self.if_match(required=False)
        actions.load_tile(by=request.user, firing=firing, version=version, **self.input(LoadIn))
        return self.answer(firing)

    @extend_schema(request=LoadManyIn)
    @action(detail=True, methods=["post"], url_path="load-many")
    def load_many(self, request: Any, pk: Any = None) -> Response:
        firing = self.get_object()
        actions.load_many(by=request.user, firing=firing, **self.input(LoadManyIn))
        return self.answer(firing)

    @extend_schema(request=OverrideIn)
    @action(detail=True, methods=["post"])
    def override(self, request: Any, pk: Any = None) -> Response:
        firing, version = self.get_object(), self.if_match(required=False)
        actions.override_stop(by=request.user, firing=firing, version=version, **self.input(OverrideIn))
        return self.answer(firing)

    @extend_schema(request=BackIn)
    @action(detail=True, methods=["post"], url_path="step-back")
    def step_back(self, request: Any, pk: Any = None) -> Response:
        firing, version = self.get_object(), self.if_match(required=False)
        return self.answer(
            actions.step_back(by=request.user, firing=firing, version=version, **self.input(BackIn))
        )

    @extend_schema(request=TakeOutIn)
    @action(detail=True, methods=["post"], url_path="take-out")
    def take_out(self, request: Any, pk: Any = None) -> Response:
        firing = self.get_object()
        actions.take_out(by=request.user, firing=firing, **self.input(TakeOutIn))
        return self.answer(firing)

    @extend_schema(request=MoveIn)
    @action(detail=True, methods=["post"])
    def move(self, request: Any, pk: Any = None) -> Response:
        firing, version = self.get_object(), self.if_match(required=False)
        return self.answer(
            actions.move_firing(by=request.user, firing=firing, version=version, **self.input(MoveIn))
        )
