"""Clay bodies and kilns."""

from typing import Any, ClassVar

from rest_framework import serializers

from inventory.api.base import In, Out
from inventory.api.glazes import Archivable
from studio.api.base import SEE
from studio.api.serializers import NewId
from tiles import actions
from tiles.filters import BodyFilter, KilnFilter
from tiles.models import ClayBody, Kiln

BODY_FIELDS = [
    "name",
    "bisque_cone",
    "cone_low",
    "cone_high",
    "absorption_percent",
    "expansion",
    "expansion_range_c",
    "colour",
    "remark",
]
KILN_FIELDS = [
    "name",
    "highest_cone",
    "positions",
    "thermocouple",
    "lead_or_cadmium",
    "lustre",
    "salt",
    "cautions",
    "power_kw",
    "duty_percent",
    "elements_last",
    "thermocouple_last",
]


class BodyOut(Out):
    class Meta:
        model = ClayBody
        fields = ["id", "version", "created_at", *BODY_FIELDS, "archived_at"]


class BodyChange(In):
    class Meta:
        model = ClayBody
        fields = BODY_FIELDS


class BodyNew(NewId, BodyChange):
    class Meta(BodyChange.Meta):
        fields = ["id", *BODY_FIELDS]


class ClayBodies(Archivable):
    """What tiles are made of."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "partial_update", "archive"], "body.change")}
    model = ClayBody
    serializer_class = BodyOut
    filterset_class = BodyFilter
    new_class, make = BodyNew, actions.create_body
    change_class, alter = BodyChange, actions.change_body
    put_away = actions.archive

    def rows(self, person: Any) -> Any:
        return ClayBody.objects.all()


class KilnOut(Out):
    positions = serializers.ListField(child=serializers.CharField())

    class Meta:
        model = Kiln
        fields = ["id", "version", "created_at", *KILN_FIELDS, "archived_at"]


class KilnChange(In):
    positions = serializers.ListField(child=serializers.CharField(max_length=40), required=False)

    class Meta:
        model = Kiln
        fields = KILN_FIELDS


class KilnNew(NewId, KilnChange):
    class Meta(KilnChange.Meta):
        fields = ["id", *KILN_FIELDS]


class Kilns(Archivable):
    """What tiles are fired in, and its cautions."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "partial_update", "archive"], "kiln.change")}
    model = Kiln
    serializer_class = KilnOut
    filterset_class = KilnFilter
    new_class, make = KilnNew, actions.create_kiln
    change_class, alter = KilnChange, actions.change_kiln
    put_away = actions.archive

    def rows(self, person: Any) -> Any:
        return Kiln.objects.all()
