"""What the kiln does in one firing, over the API: when it has cooled, what it took, and what the meter says."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from studio.api.base import Reads
from studio.api.filters import refuse_unknown
from studio.api.serializers import Strict
from studio.models import Studio
from tiles import actions
from tiles.cooling_now import STATES, cooling_now
from tiles.cooling_words import NOT_LEAVE, cooling_words
from tiles.energy_used import used, with_things
from tiles.models import Firing
from tiles.wear_words import kwh_words


class CoolingOut(serializers.Serializer):
    """A forecast from the readings and no more: `note` is to be shown beside it. With a `code` there is none.

    `code` is 'not_cooling' for a firing that is planned, over, still climbing, or without a log.
    """

    to_c = serializers.IntegerField()
    code = serializers.CharField()
    sentence = serializers.CharField()
    note = serializers.CharField()
    expected_at = serializers.DateTimeField(allow_null=True)
    low_at = serializers.DateTimeField(allow_null=True)
    high_at = serializers.DateTimeField(allow_null=True)
    last_c = serializers.FloatField(allow_null=True)
    last_at = serializers.DateTimeField(allow_null=True)


class EnergyOut(serializers.Serializer):
    """kWh; null where not known. `basis`: 'meter', 'duty', 'at_most' (only `high_kwh`), '' (nothing is known).

    `things` are tiles and pieces, each counted as one; costs are null without the studio's price.
    """

    basis = serializers.CharField()
    kwh = serializers.FloatField(allow_null=True)
    low_kwh = serializers.FloatField(allow_null=True)
    high_kwh = serializers.FloatField(allow_null=True)
    things = serializers.IntegerField()
    cost = serializers.FloatField(allow_null=True)
    low_cost = serializers.FloatField(allow_null=True)
    high_cost = serializers.FloatField(allow_null=True)
    currency = serializers.CharField(allow_blank=True)
    words = serializers.CharField(allow_blank=True)


class MeterIn(Strict):
    """What this firing took by the meter; null where that was wrong."""

    kwh_read = serializers.DecimalField(max_digits=7, decimal_places=1, min_value=0, allow_null=True)


class FiringKiln(Reads):
    """What the kiln does in one firing."""

    acts: ClassVar = {"cooling": "studio.see", "energy": "studio.see", "meter": "firing.log"}
    model = Firing
    serializer_class = EnergyOut

    def rows(self, person: Any) -> Any:
        return with_things(Firing.objects.select_related("kiln", "log"))

    @extend_schema(operation_id="firings_cooling_retrieve", responses=CoolingOut)
    def cooling(self, request: Any, pk: Any = None) -> Response:
        refuse_unknown(request.query_params)
        firing = self.get_object()
        found = next(iter(cooling_now([firing])), None) if firing.state in STATES else None
        said: dict[str, Any] = dict.fromkeys(("expected_at", "low_at", "high_at", "last_c", "last_at"))
        said |= {
            "to_c": Studio.current().opening_c,
            "code": "not_cooling",
            "sentence": "",
            "note": str(NOT_LEAVE),
        }
        if found:
            said |= {
                "code": found.trouble.code if found.trouble else "",
                "sentence": cooling_words(found),
                "expected_at": found.middle_at,
                **{name: getattr(found, name) for name in ("low_at", "high_at", "last_c", "last_at")},
            }
        return Response(CoolingOut(said).data)

    @extend_schema(operation_id="firings_energy_retrieve", responses=EnergyOut)
    def energy(self, request: Any, pk: Any = None) -> Response:
        refuse_unknown(request.query_params)
        return Response(EnergyOut(_energy(self.get_object())).data)

    @extend_schema(operation_id="firings_meter", request=MeterIn, responses={200: EnergyOut})
    def meter(self, request: Any, pk: Any = None) -> Response:
        firing, version = self.get_object(), self.if_match(required=False)
        actions.read_meter(by=request.user, obj=firing, version=version, **self.input(MeterIn))
        fresh = self.get_object()
        return Response(EnergyOut(_energy(fresh)).data, headers=self.etag(fresh))


def _energy(firing: Any) -> dict[str, Any]:
    took, studio = used(firing, Studio.current()), Studio.current()
    if took is None:
        names = ("kwh", "low_kwh", "high_kwh", "cost", "low_cost", "high_cost")
        known = {"basis": "", "things": firing.thing_count, "currency": studio.currency, "words": ""}
        return {**dict.fromkeys(names), **known}
    cost, low_cost, high_cost = took.cost or (None, None, None)
    return {
        "basis": took.energy.basis,
        "kwh": took.energy.kwh,
        "low_kwh": took.energy.low,
        "high_kwh": took.energy.high,
        "things": took.things,
        "cost": cost,
        "low_cost": low_cost,
        "high_cost": high_cost,
        "currency": took.currency,
        "words": kwh_words(took),
    }
