"""Clay bodies, kilns, and what the studio says of combinations."""

from typing import Any, ClassVar

from rest_framework import serializers

from inventory.api.base import GlazeRef, In, Out
from inventory.api.glazes import Archivable
from studio.api.base import SEE, Changes
from studio.api.serializers import NewId
from tiles import actions
from tiles.filters import BodyFilter, CombinationFilter, KilnFilter
from tiles.models import ClayBody, Combination, Kiln

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


class CombinationOut(Out):
    """Glazes from the clay outwards."""

    glazes = serializers.SerializerMethodField()
    text = serializers.CharField(source="__str__")

    class Meta:
        model = Combination
        fields = ["id", "version", "created_at", "glazes", "text", "remark"]

    def get_glazes(self, combination: Combination) -> GlazeRef(many=True):  # type: ignore[valid-type]
        return GlazeRef([part.glaze for part in combination.parts.all()], many=True).data


class CombinationChange(In):
    class Meta:
        model = Combination
        fields = ["remark"]


class Combinations(Changes):
    """Which glazes lie over which; made by the layers of tiles, remarked on here."""

    acts: ClassVar = {**SEE, "partial_update": "combination.remark"}
    model = Combination
    serializer_class = CombinationOut
    filterset_class = CombinationFilter
    change_class, alter = CombinationChange, actions.change_combination

    def rows(self, person: Any) -> Any:
        return Combination.objects.visible_to(person).prefetch_related("parts__glaze")
