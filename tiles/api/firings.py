"""Firings: plan, load, fire, unload, and read the witness cones."""

from typing import Any, ClassVar

from django.db.models import Prefetch
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory.api.base import In, Out
from studio.api.base import SEE, Resource
from studio.api.serializers import IdOf, NewId, Strict
from tiles import actions
from tiles.filters import FiringFilter
from tiles.models import Firing, Kiln, Tile, TileFiring, WitnessCone

FIELDS = ["kiln", "kind", "target_cone", "atmosphere", "planned_on", "schedule", "remark"]
WITNESS_FIELDS = ["position", "cone", "cone_type", "bend_degrees"]


class KilnRef(Out):
    class Meta:
        model = Kiln
        fields = ["id", "name"]


class TileRef(Out):
    class Meta:
        model = Tile
        fields = ["id", "number"]


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


class FiringOut(Out):
    kiln = KilnRef()
    witness_cones = WitnessOut(many=True)
    tiles = LoadedOut(source="tile_firings", many=True)

    class Meta:
        model = Firing
        fields = [
            "id",
            "version",
            "created_at",
            "number",
            *FIELDS,
            "state",
            "started_at",
            "unloaded_at",
            "log_cone",
            "witness_cones",
            "tiles",
        ]


class FiringChange(In):
    kiln = IdOf(Kiln)

    class Meta:
        model = Firing
        fields = FIELDS


class FiringNew(NewId, FiringChange):
    class Meta(FiringChange.Meta):
        fields = ["id", *FIELDS]


class WitnessIn(In):
    class Meta:
        model = WitnessCone
        fields = WITNESS_FIELDS


class WitnessesIn(Strict):
    """All of them: they take the place of what was written."""

    witness_cones = WitnessIn(many=True)


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
        **dict.fromkeys(["create", "partial_update", "witness_cones", "move"], "firing.change"),
        **dict.fromkeys(["load", "take_out"], "firing.load"),
    }
    model = Firing
    serializer_class = FiringOut
    filterset_class = FiringFilter
    new_class, make = FiringNew, actions.plan_firing
    change_class, alter = FiringChange, actions.change_firing

    def rows(self, person: Any) -> Any:
        seen = TileFiring.objects.filter(tile__in=Tile.objects.visible_to(person)).select_related("tile")
        return Firing.objects.select_related("kiln").prefetch_related(
            "witness_cones", Prefetch("tile_firings", seen)
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
