"""Schedules over the API, each with what it is reckoned to reach."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from inventory.api.base import In, Out
from inventory.api.glazes import Archivable
from inventory.fields import ConeJsonField
from studio.api.base import SEE
from studio.api.serializers import FindingSaid, NewId, NumberField, Strict
from tiles import actions
from tiles.filters import ScheduleFilter
from tiles.models import Schedule
from tiles.predicting import Prediction, predict, schedule_said

FIELDS = ["name", "kind", "target_cone", "segments", "remark"]


class SegmentJson(Strict):
    """One segment. A `rate_c_per_h` of null is as fast as the kiln goes; a `to_c` below the one before is cooling."""

    rate_c_per_h = NumberField(allow_null=True, required=False)
    to_c = NumberField()
    hold_min = NumberField(required=False)


class PredictedJson(serializers.Serializer):
    """What it comes to by reckoning. `cone_low` and `cone_high` are the interval; null is cooler than cone 022.

    `fastest_c_per_h` is what 'as fast as it goes' was taken for near the top, and `fastest_is` where that is from.
    """

    minutes = serializers.FloatField()
    cone = ConeJsonField(allow_null=True)
    cone_fraction = serializers.FloatField(allow_null=True)
    cone_low = ConeJsonField(allow_null=True)
    cone_high = ConeJsonField(allow_null=True)
    peak_c = serializers.FloatField(allow_null=True)
    fastest_c_per_h = serializers.FloatField()
    fastest_is = serializers.ChoiceField(["of the kiln", "assumed"])


def predicted(prediction: Prediction) -> dict[str, Any]:
    """The fields of PredictedJson."""
    heat = prediction.heat
    return {
        "minutes": round(prediction.minutes, 1),
        "cone": heat.cone if heat else None,
        "cone_fraction": heat.fraction if heat else None,
        "cone_low": heat.low if heat else None,
        "cone_high": heat.high if heat else None,
        "peak_c": heat.peak_c if heat else None,
        "fastest_c_per_h": prediction.fastest_c_per_h,
        "fastest_is": "of the kiln" if prediction.is_of_kiln else "assumed",
    }


class ScheduleOut(Out):
    segments = SegmentJson(many=True)
    predicted = serializers.SerializerMethodField()
    findings = serializers.SerializerMethodField()

    class Meta:
        model = Schedule
        fields = ["id", "version", "created_at", *FIELDS, "archived_at", "predicted", "findings"]

    @extend_schema_field(PredictedJson)
    def get_predicted(self, schedule: Schedule) -> Any:
        return PredictedJson(predicted(predict(schedule.segments))).data

    @extend_schema_field(FindingSaid(many=True))
    def get_findings(self, schedule: Schedule) -> Any:
        return FindingSaid(schedule_said(schedule, predict(schedule.segments)), many=True).data


class ScheduleChange(In):
    segments = SegmentJson(many=True)

    class Meta:
        model = Schedule
        fields = FIELDS


class ScheduleNew(NewId, ScheduleChange):
    class Meta(ScheduleChange.Meta):
        fields = ["id", *FIELDS]


class Schedules(Archivable):
    """How the studio fires: ramps, targets, holds and cooling. The software never commands a kiln."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "partial_update", "archive"], "schedule.change")}
    model = Schedule
    serializer_class = ScheduleOut
    filterset_class = ScheduleFilter
    new_class, make = ScheduleNew, actions.create_schedule
    change_class, alter = ScheduleChange, actions.change_schedule
    put_away = actions.archive_schedule

    def rows(self, person: Any) -> Any:
        return Schedule.objects.all()
