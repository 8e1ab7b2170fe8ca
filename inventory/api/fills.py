"""Fills: what is in a bucket from .. until, with its readings, stock entries and flags."""

from typing import Any, ClassVar

from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import BucketRef, GlazeRef, In, Out, StandingFields
from inventory.api.entries import ReadingNew, ReadingOut, StockEntryNew, StockEntryOut
from inventory.api.flags import FlagNew, FlagOut
from inventory.api.life import FillLife
from inventory.filters import FillFilter
from inventory.models import Bucket, Fill, Glaze
from inventory.register import may_see_price
from studio.api.base import SEE, Resource
from studio.api.serializers import IdOf, NewId, PersonRef, Strict

OWN = ["lot", "made_on", "label", "label_condition", "child_fit", "container_size", "price", "remark"]
SHOWN = ["id", "version", "lot", "made_on", "started_at", "level", "balance_ml", "label", "label_condition"]


class FillInBucket(StandingFields, Out):
    """What is in a bucket now, and how it stands."""

    glaze = GlazeRef()

    class Meta:
        model = Fill
        fields = [*SHOWN, "glaze", *StandingFields.Meta.fields]


class FillOut(FillInBucket):
    bucket = BucketRef()
    label_read_by = PersonRef(allow_null=True)
    child_fit_read_by = PersonRef(allow_null=True)
    container_size = serializers.SerializerMethodField()
    price = serializers.SerializerMethodField()

    class Meta:
        model = Fill
        fields = [
            *FillInBucket.Meta.fields,
            "bucket",
            "ended_at",
            "ended_why",
            "label_read_by",
            "label_read_on",
            "child_fit",
            "child_fit_read_by",
            "child_fit_read_on",
            "container_size",
            "price",
            "remark",
            "created_at",
        ]

    def _bought_for(self, fill: Any) -> bool:
        """What was paid is for those who buy; null to others."""
        request = self.context.get("request")
        return request is not None and may_see_price(request.user, fill)

    def get_container_size(self, fill: Any) -> str | None:
        return fill.container_size if self._bought_for(fill) else None

    @extend_schema_field(serializers.DecimalField(max_digits=9, decimal_places=2, allow_null=True))
    def get_price(self, fill: Any) -> str | None:
        return None if fill.price is None or not self._bought_for(fill) else str(fill.price)


class FillChange(In):
    class Meta:
        model = Fill
        fields = OWN


class FillNew(NewId, FillChange):
    bucket = IdOf(Bucket)
    glaze = IdOf(Glaze)
    started_at = serializers.DateTimeField(required=False)

    class Meta(FillChange.Meta):
        fields = ["id", "bucket", "glaze", "started_at", "level", *OWN]


class EndIn(Strict):
    why = serializers.CharField(max_length=120)
    ended_at = serializers.DateTimeField(required=False)


class NotSoIn(Strict):
    reason = serializers.CharField(max_length=500)


class Fills(FillLife, Resource):
    """POST fills an empty bucket. What a fill is of is never changed: end it and start another."""

    acts: ClassVar = {
        **SEE,
        "create": "fill.own_jar",
        "partial_update": "fill.own_jar",
        "end": "fill.own_jar",
        "readings": "studio.see",
        "add_reading": "reading.add",
        "stock_entries": "studio.see",
        "add_stock_entry": "stock.add",
        "raise_flag": "flag.raise",
        "withdraw_label": "flag.clear",
        **FillLife.life_acts,
    }
    model = Fill
    serializer_class = FillOut
    filterset_class = FillFilter
    new_class, make = FillNew, actions.start_fill
    change_class, alter = FillChange, actions.change_fill

    def rows(self, person: Any) -> Any:
        fills = Fill.objects.visible_to(person).with_standing()
        return fills.select_related("glaze", "bucket", "label_read_by", "child_fit_read_by")

    @extend_schema(request=EndIn)
    @action(detail=True, methods=["post"])
    def end(self, request: Any, pk: Any = None) -> Response:
        fill, version = self.get_object(), self.if_match(required=False)
        return self.answer(actions.end_fill(by=request.user, fill=fill, version=version, **self.input(EndIn)))

    @extend_schema(responses=ReadingOut(many=True), filters=False)
    @action(detail=True)
    def readings(self, request: Any, pk: Any = None) -> Response:
        return self.parts(self.get_object().readings.select_related("by"), ReadingOut)

    @extend_schema(request=ReadingNew, responses={201: ReadingOut})
    @readings.mapping.post
    def add_reading(self, request: Any, pk: Any = None) -> Response:
        fill = self.get_object()
        reading = actions.add_reading(by=request.user, fill=fill, **self.input(ReadingNew))
        return self.part(fill, reading, ReadingOut)

    @extend_schema(responses=StockEntryOut(many=True), filters=False)
    @action(detail=True, url_path="stock-entries")
    def stock_entries(self, request: Any, pk: Any = None) -> Response:
        return self.parts(self.get_object().stock_entries.select_related("by"), StockEntryOut)

    @extend_schema(request=StockEntryNew, responses={201: StockEntryOut})
    @stock_entries.mapping.post
    def add_stock_entry(self, request: Any, pk: Any = None) -> Response:
        fill = self.get_object()
        entry = actions.add_stock_entry(by=request.user, fill=fill, **self.input(StockEntryNew))
        return self.part(fill, entry, StockEntryOut)

    @extend_schema(request=FlagNew, responses={201: FlagOut, 200: FlagOut})
    @action(detail=True, methods=["post"], url_path="flags")
    def raise_flag(self, request: Any, pk: Any = None) -> Response:
        """201 for a new flag; 200 where an open flag of this kind was joined by a note."""
        fill, asked_at = self.get_object(), timezone.now()
        flag = actions.raise_flag(by=request.user, fill=fill, **self.input(FlagNew))
        return self.part(fill, flag, FlagOut, 201 if flag.created_at >= asked_at else 200)

    @extend_schema(request=NotSoIn)
    @action(detail=True, methods=["post"], url_path="withdraw-label")
    def withdraw_label(self, request: Any, pk: Any = None) -> Response:
        """A “not for food” label that was misread. Nobody has read the container then."""
        fill, version = self.get_object(), self.if_match(required=False)
        reason = self.input(NotSoIn)["reason"]
        return self.answer(actions.withdraw_label(by=request.user, fill=fill, reason=reason, version=version))
