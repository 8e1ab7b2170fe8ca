"""SG rounds: a walk past every bucket, one weight at each."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import exceptions, serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import BucketRef, GlazeRef, In, Out
from inventory.api.entries import ReadingOut
from inventory.fields import SpecificGravityJsonField
from inventory.models import RoundStop, SgRound
from inventory.rounds import answered, stops_of
from studio.api.base import SEE, Reads
from studio.api.serializers import NewId, Nothing, PersonRef, Strict

OWN = ["id", "version", "created_at", "started_by", "cup_ml", "cup_g", "finished_at"]


class StopOut(Out):
    """`stop` is its number in the walk. `water_to_add_ml` below 0 is to take off; null where it cannot be said."""

    stop = serializers.IntegerField(source="order")
    fill = serializers.UUIDField(source="fill_id")
    bucket = BucketRef(source="fill.bucket")
    glaze = GlazeRef(source="fill.glaze")
    reading = ReadingOut(allow_null=True)
    side = serializers.SerializerMethodField()
    water_to_add_ml = serializers.SerializerMethodField()

    class Meta:
        model = RoundStop
        fields = ["stop", "fill", "bucket", "glaze", "state", "why", "reading", "side", "water_to_add_ml"]

    @extend_schema_field(serializers.ChoiceField(["", "thin", "within", "thick"]))
    def get_side(self, stop: RoundStop) -> str:
        return answered(stop).side

    @extend_schema_field(serializers.DecimalField(max_digits=9, decimal_places=1, allow_null=True))
    def get_water_to_add_ml(self, stop: RoundStop) -> str | None:
        water = answered(stop).water_to_add_ml
        return None if water is None else str(water)


class RoundOut(Out):
    started_by = PersonRef()

    class Meta:
        model = SgRound
        fields = OWN


class RoundWhole(RoundOut):
    stops = serializers.SerializerMethodField()

    class Meta(RoundOut.Meta):
        fields = [*OWN, "stops"]

    @extend_schema_field(StopOut(many=True))
    def get_stops(self, sg_round: SgRound) -> Any:
        return StopOut(stops_of(sg_round), many=True, context=self.context).data


class RoundNew(NewId, In):
    class Meta:
        model = SgRound
        fields = ["id", "cup_ml", "cup_g"]


class MeasureIn(Strict):
    """The full cup's weight, or a specific gravity read otherwise."""

    stop = serializers.IntegerField(min_value=1)
    gross_g = serializers.DecimalField(max_digits=7, decimal_places=1, min_value=0, required=False)
    specific_gravity = SpecificGravityJsonField(required=False)
    remark = serializers.CharField(max_length=200, required=False, allow_blank=True)


class PassIn(Strict):
    stop = serializers.IntegerField(min_value=1)
    why = serializers.CharField(max_length=120, required=False, allow_blank=True)


class SgRounds(Reads):
    """One round is open at a time. A bucket that was passed over can be measured until the round is finished."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "measure", "pass_over", "finish"], "round.walk")}
    model = SgRound
    serializer_class = RoundWhole
    new_class = RoundNew

    def get_serializer_class(self) -> Any:
        return RoundOut if self.action == "list" else RoundWhole

    def rows(self, person: Any) -> Any:
        return SgRound.objects.select_related("started_by")

    def create(self, request: Any) -> Response:
        return self.answer(actions.start_round(by=request.user, **self.input(RoundNew)), 201)

    def _stop(self, sg_round: SgRound, order: int) -> RoundStop:
        stop = sg_round.stops.filter(order=order).first()
        if stop is None:
            raise exceptions.ValidationError({"stop": [f"There is no stop {order} in this round."]})
        return stop

    @extend_schema(request=MeasureIn)
    @action(detail=True, methods=["post"])
    def measure(self, request: Any, pk: Any = None) -> Response:
        sg_round, said = self.get_object(), self.input(MeasureIn)
        stop = self._stop(sg_round, said.pop("stop"))
        actions.measure_stop(by=request.user, sg_round=sg_round, stop=stop, **said)
        return self.answer(sg_round)

    @extend_schema(request=PassIn)
    @action(detail=True, methods=["post"], url_path="pass")
    def pass_over(self, request: Any, pk: Any = None) -> Response:
        sg_round, said = self.get_object(), self.input(PassIn)
        stop = self._stop(sg_round, said.pop("stop"))
        actions.pass_stop(by=request.user, sg_round=sg_round, stop=stop, **said)
        return self.answer(sg_round)

    @extend_schema(request=Nothing)
    @action(detail=True, methods=["post"])
    def finish(self, request: Any, pk: Any = None) -> Response:
        self.input(Nothing)
        return self.answer(actions.finish_round(by=request.user, sg_round=self.get_object()))
