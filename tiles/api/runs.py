"""Runs of numbers: tiles just made."""

from collections import Counter
from typing import Any, ClassVar

from django.db.models import Prefetch
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.response import Response

from inventory.api.base import Out
from studio.api.base import SEE, Reads
from studio.api.serializers import IdOf, PersonRef
from studio.models import Person
from tiles import actions
from tiles.api.several import TileRef
from tiles.api.tiles import ReserveIn
from tiles.filters import RunFilter
from tiles.models import Firing, NumberRun, Tile


class RunOut(Out):
    """`tiles` and `states` (how many are in each state) are of the tiles that you may see."""

    reserved_by = PersonRef()
    states = serializers.SerializerMethodField()
    tiles = serializers.SerializerMethodField()

    class Meta:
        model = NumberRun
        fields = ["id", "created_at", "prefix", "first", "last", "device", "reserved_by", "states", "tiles"]

    @extend_schema_field(serializers.DictField(child=serializers.IntegerField()))
    def get_states(self, run: Any) -> dict[str, int]:
        return dict(Counter(tile.state for tile in run.seen))

    @extend_schema_field(TileRef(many=True))
    def get_tiles(self, run: Any) -> Any:
        return TileRef(run.seen, many=True).data


class RunNew(ReserveIn):
    """`firing` is a bisque firing: one that still takes tiles is loaded with them, an unloaded one they came out of."""

    maker = IdOf(Person, required=False)
    firing = IdOf(Firing, required=False, allow_null=True)
    bisqued = serializers.BooleanField(required=False)


class Runs(Reads):
    """Tiles made together."""

    acts: ClassVar = {**SEE, "create": "tile.log"}
    model = NumberRun
    serializer_class = RunOut
    filterset_class = RunFilter

    def rows(self, person: Any) -> Any:
        seen = Tile.objects.visible_to(person).order_by("created_at", "number")
        runs = NumberRun.objects.visible_to(person).select_related("reserved_by")
        return runs.prefetch_related(Prefetch("tiles", seen, to_attr="seen"))

    @extend_schema(request=RunNew, responses={201: RunOut})
    def create(self, request: Any) -> Response:
        """The next free numbers, for tiles just made."""
        made = actions.make_run(by=request.user, **self.input(RunNew))
        return self.answer(NumberRun.objects.get(tiles=made[0]), 201)
