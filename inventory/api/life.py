"""What is done to a fill between its beginning and its end, under the fill's own address."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import In, Out
from inventory.api.entries import StockEntryOut
from inventory.fields import SpecificGravityJsonField
from inventory.models import Fill, Level, Treatment
from studio.api.base import Reads
from studio.api.serializers import IdOf, PersonRef, Strict

TREATED = ["kind", "tool", "mesh", "material", "amount_g", "amount_ml", "at", "remark"]


class TreatmentOut(Out):
    by = PersonRef()

    class Meta:
        model = Treatment
        fields = ["id", "created_at", *TREATED, "by"]


class TreatmentNew(In):
    """What was stirred, sieved or added. Water that brings a dried fill back goes to `revive`."""

    kind = serializers.ChoiceField([kind for kind in Treatment.Kind.choices if kind[0] != "revived"])

    class Meta:
        model = Treatment
        fields = TREATED


def _volume(**kwargs: Any) -> serializers.DecimalField:
    return serializers.DecimalField(max_digits=9, decimal_places=1, **kwargs)


class TopUpIn(Strict):
    """The amount, or the level afterwards, or both."""

    volume_ml = _volume(required=False, allow_null=True)
    level = serializers.ChoiceField(Level.choices, required=False, allow_blank=True)
    lot = serializers.CharField(max_length=60, required=False, allow_blank=True)
    at = serializers.DateTimeField(required=False)
    remark = serializers.CharField(max_length=200, required=False, allow_blank=True)


class TransferIn(Strict):
    """Into `target`; the amount is null where it was not measured."""

    target = IdOf(Fill)
    volume_ml = _volume(required=False, allow_null=True)
    at = serializers.DateTimeField(required=False)
    remark = serializers.CharField(max_length=200, required=False, allow_blank=True)


class ReviveIn(Strict):
    water_ml = _volume()
    specific_gravity = SpecificGravityJsonField(required=False, allow_null=True)
    tool = serializers.ChoiceField(Treatment.Tool.choices, required=False, allow_blank=True)
    mesh = serializers.IntegerField(required=False, allow_null=True, min_value=1, max_value=1000)
    remark = serializers.CharField(max_length=200, required=False, allow_blank=True)


class WashOutIn(Strict):
    why = serializers.CharField(max_length=120)


class FillLife(Reads):
    """The acts are asked for again by each action: an own jar is its owner's, the shelf's buckets a technician's."""

    life_acts: ClassVar = {
        "top_up": "fill.own_jar",
        "transfer": "stock.add",
        "treatments": "studio.see",
        "add_treatment": "stock.add",
        "revive": "flag.clear",
        "wash_out": "fill.own_jar",
    }

    @extend_schema(request=TopUpIn, responses={201: StockEntryOut})
    @action(detail=True, methods=["post"], url_path="top-up")
    def top_up(self, request: Any, pk: Any = None) -> Response:
        fill = self.get_object()
        entry = actions.top_up(by=request.user, fill=fill, **self.input(TopUpIn))
        return self.part(fill, entry, StockEntryOut)

    @extend_schema(request=TransferIn, responses={201: StockEntryOut})
    @action(detail=True, methods=["post"])
    def transfer(self, request: Any, pk: Any = None) -> Response:
        """Pours out of this fill; answers with the entry of the target. Open flags go along."""
        fill = self.get_object()
        entry = actions.transfer(by=request.user, source=fill, **self.input(TransferIn))
        return self.part(fill, entry, StockEntryOut)

    @extend_schema(responses=TreatmentOut(many=True), filters=False)
    @action(detail=True)
    def treatments(self, request: Any, pk: Any = None) -> Response:
        return self.parts(self.get_object().treatments.select_related("by"), TreatmentOut)

    @extend_schema(request=TreatmentNew, responses={201: TreatmentOut})
    @treatments.mapping.post
    def add_treatment(self, request: Any, pk: Any = None) -> Response:
        fill = self.get_object()
        treatment = actions.treat(by=request.user, fill=fill, **self.input(TreatmentNew))
        return self.part(fill, treatment, TreatmentOut)

    @extend_schema(request=ReviveIn, responses={201: TreatmentOut})
    @action(detail=True, methods=["post"])
    def revive(self, request: Any, pk: Any = None) -> Response:
        """Notes the water, the reading where there is one, and puts right what was flagged as dried or settled."""
        fill = self.get_object()
        treatment = actions.revive(by=request.user, fill=fill, **self.input(ReviveIn))
        return self.part(fill, treatment, TreatmentOut)

    @extend_schema(request=WashOutIn)
    @action(detail=True, methods=["post"], url_path="wash-out")
    def wash_out(self, request: Any, pk: Any = None) -> Response:
        """Ends the fill. What may go down a drain is a matter of local rules."""
        fill, version = self.get_object(), self.if_match(required=False)
        done = actions.wash_out(by=request.user, fill=fill, version=version, **self.input(WashOutIn))
        return self.answer(done)
