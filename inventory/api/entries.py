"""Readings and stock entries in JSON: written once, never changed."""

from rest_framework import serializers

from inventory.actions.stock import ELSEWHERE
from inventory.api.base import In, Out
from inventory.fields import SpecificGravityJsonField
from inventory.models import Reading, StockEntry
from studio.api.serializers import NewId, PersonRef


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
            "lot",
            "depth_mm",
            "gross_g",
            "at",
            "asks_for_a_look",
            "remark",
            "by",
        ]


class StockEntryNew(NewId, In):
    """An amount above 0 that went in or out as the kind says; of a level the whole volume, or how it was measured.
    Pouring from bucket to bucket is `transfer`.
    """

    kind = serializers.ChoiceField([kind for kind in StockEntry.Kind.choices if kind[0] not in ELSEWHERE])

    class Meta:
        model = StockEntry
        fields = ["id", "kind", "volume_ml", "level", "lot", "depth_mm", "gross_g", "at", "remark"]
