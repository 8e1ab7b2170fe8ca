"""Readings and stock entries in JSON: written once, never changed."""

from rest_framework import serializers

from inventory.api.base import In, Out
from inventory.fields import SpecificGravityJsonField
from inventory.models import Fill, Reading, StockEntry
from studio.api.serializers import IdOf, NewId, PersonRef


class ReadingOut(Out):
    by = PersonRef()

    class Meta:
        model = Reading
        fields = ["id", "created_at", "specific_gravity", "taken_at", "method", "remark", "by"]


class ReadingNew(NewId, In):
    specific_gravity = SpecificGravityJsonField()

    class Meta:
        model = Reading
        fields = ["id", "specific_gravity", "taken_at", "method", "remark"]


class StockEntryOut(Out):
    source_fill = serializers.UUIDField(source="source_fill_id", allow_null=True)
    by = PersonRef()

    class Meta:
        model = StockEntry
        fields = [
            "id",
            "created_at",
            "kind",
            "volume_ml",
            "level",
            "source_fill",
            "at",
            "asks_for_a_look",
            "remark",
            "by",
        ]


class StockEntryNew(NewId, In):
    """A volume is signed for a movement, and the whole for a level."""

    source_fill = IdOf(Fill, required=False, allow_null=True)

    class Meta:
        model = StockEntry
        fields = ["id", "kind", "volume_ml", "level", "source_fill", "at", "remark"]
