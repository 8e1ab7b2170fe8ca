"""The curve of a firing over the API: what was planned, what the kiln did, and when each cone went down."""

from typing import Any, ClassVar

import numpy as np
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from inventory.fields import ConeJsonField
from studio.api.base import Reads
from studio.api.serializers import Strict, checked
from tiles.api.logs import MOST_POINTS
from tiles.api.schedules import PredictedJson, SaidJson, SegmentJson, predicted
from tiles.calc.downsample import FEWEST, downsample
from tiles.curves import Curve, firing_curve
from tiles.loads import rows_seen
from tiles.models import Firing
from tiles.predicting import plan_said


class FallJson(serializers.Serializer):
    cone = ConeJsonField()
    minute = serializers.FloatField()


class PointField(serializers.ListField):
    """`[minutes, celsius]`; a null celsius breaks the line."""

    child = serializers.FloatField(allow_null=True)


class PlanJson(serializers.Serializer):
    """`points` are the corners of its path; `findings` are of the load as far as the person may see it."""

    name = serializers.CharField()
    segments = SegmentJson(many=True)
    points = serializers.ListField(child=PointField())
    falls = FallJson(many=True)
    predicted = PredictedJson()
    findings = SaidJson(many=True)


class LogJson(serializers.Serializer):
    """The readings, thinned so that peaks, dips and gaps stay; `count` is how many there are in all."""

    begins_at = serializers.DateTimeField(allow_null=True)
    count = serializers.IntegerField()
    points = serializers.ListField(child=PointField())
    falls = FallJson(many=True)


class EventJson(serializers.Serializer):
    at = serializers.DateTimeField()
    minute = serializers.FloatField(allow_null=True)
    words = serializers.CharField()


class SpellJson(serializers.Serializer):
    """Readings in doubt, from one minute to another."""

    code = serializers.CharField()
    from_min = serializers.FloatField()
    to_min = serializers.FloatField()


class CurveQuery(Strict):
    points = serializers.IntegerField(
        min_value=FEWEST, max_value=MOST_POINTS, default=400, help_text="At most so many of the log."
    )


class CurveOut(serializers.Serializer):
    """Minutes count from the start of the firing; `plan` or `log` is null where there is none."""

    plan = PlanJson(allow_null=True)
    log = LogJson(allow_null=True)
    events = EventJson(many=True)
    marks = SpellJson(many=True)


class FiringCurves(Reads):
    """The curve of one firing."""

    acts: ClassVar = {"retrieve": "studio.see"}
    model = Firing
    serializer_class = CurveOut

    def rows(self, person: Any) -> Any:
        return Firing.objects.select_related("kiln")

    @extend_schema(
        responses=CurveOut,
        parameters=[CurveQuery],
    )
    def retrieve(self, request: Any, pk: Any = None) -> Response:
        asked = checked(CurveQuery, request.query_params.dict())
        firing = self.get_object()
        curve = firing_curve(firing)
        found = {
            "plan": self._plan(firing, curve) if curve.prediction else None,
            "log": _log(curve, asked["points"]) if curve.has_log else None,
            "events": curve.events,
            "marks": curve.spells,
        }
        return Response(CurveOut(found).data)

    def _plan(self, firing: Firing, curve: Curve) -> dict[str, Any]:
        prediction: Any = curve.prediction
        person: Any = self.request.user
        return {
            "name": firing.plan_name,
            "segments": firing.plan,
            "points": _pairs(curve.plan_minutes, curve.plan_c),
            "falls": curve.planned_falls,
            "predicted": predicted(prediction),
            "findings": plan_said(firing, prediction, rows_seen(firing, person)),
        }


def _log(curve: Curve, points: int) -> dict[str, Any]:
    return {
        "begins_at": curve.begins_at,
        "count": curve.count,
        "points": _pairs(*downsample(curve.minutes, curve.celsius, points)),
        "falls": curve.falls,
    }


def _pairs(minutes: Any, celsius: Any) -> list[list[float | None]]:
    return [
        [round(float(minute), 2), None if np.isnan(heat) else round(float(heat), 1)]
        for minute, heat in zip(minutes, celsius, strict=True)
    ]
