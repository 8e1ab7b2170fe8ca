"""Which glazes lie over which, and everything that is known of one stack."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from inventory.api.base import BucketRef, GlazeRef, In, Out
from inventory.api.fills import FillInBucket
from inventory.fields import ConeJsonField
from inventory.models import Fill
from studio.api.base import SEE, Changes
from tiles import actions
from tiles.api.marks import SetAsideOut
from tiles.filters import CombinationFilter
from tiles.models import ClayBody, Combination, Outcome, Tile, TileZone
from tiles.queries_marks import set_aside_of
from tiles.soundness import damage_of, soundness


class CombinationOut(Out):
    """Glazes from the clay outwards."""

    glazes = serializers.SerializerMethodField()
    text = serializers.CharField(source="__str__")

    class Meta:
        model = Combination
        fields = ["id", "version", "created_at", "glazes", "text", "remark"]

    def get_glazes(self, combination: Combination) -> GlazeRef(many=True):  # type: ignore[valid-type]
        return GlazeRef([part.glaze for part in combination.parts.all()], many=True).data


class ShareOut(serializers.Serializer):
    """`sound` of `looked_at`, with Wilson's interval of 80 %; null when nobody has looked."""

    tiles = serializers.IntegerField(help_text="All of them, looked at or not.")
    looked_at = serializers.IntegerField(source="share.tries", default=0)
    sound = serializers.IntegerField(source="share.good", default=0)
    low = serializers.FloatField(source="share.low", default=None, allow_null=True)
    high = serializers.FloatField(source="share.high", default=None, allow_null=True)
    word = serializers.ChoiceField(["mostly", "seldom", "cannot_say"])


class BodyName(Out):
    class Meta:
        model = ClayBody
        fields = ["id", "name"]


class GroupOut(ShareOut):
    body = BodyName(allow_null=True)
    cone = ConeJsonField(allow_null=True)


class TileNumber(Out):
    class Meta:
        model = Tile
        fields = ["id", "number"]


class TriedOut(serializers.Serializer):
    """A tile with this combination on it. `is_sound` is null when nobody has looked since its last glaze firing."""

    tile = TileNumber()
    zones = serializers.ListField(child=serializers.ChoiceField(TileZone.Kind.choices))
    is_sound = serializers.BooleanField(allow_null=True)


class DamageOut(Out):
    tile = TileNumber()

    class Meta:
        model = Outcome
        fields = ["tile", "looked_on", "damage"]


class BucketNow(FillInBucket):
    """A bucket that holds one of these glazes now. Its label is quoted; nothing is concluded from it."""

    bucket = BucketRef()

    class Meta(FillInBucket.Meta):
        fields = [*FillInBucket.Meta.fields, "bucket"]


class CombinationKnown(CombinationOut):
    """With everything that the page says: how often sound, damage for ever, and its buckets as they stand now."""

    in_all = ShareOut()
    by_body_and_cone = GroupOut(many=True)
    tiles = TriedOut(many=True)
    damage = DamageOut(many=True)
    set_aside = SetAsideOut(many=True)
    buckets = BucketNow(many=True)

    class Meta(CombinationOut.Meta):
        fields = [
            *CombinationOut.Meta.fields,
            "in_all",
            "by_body_and_cone",
            "tiles",
            "damage",
            "set_aside",
            "buckets",
        ]


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

    def represent(self, record: Any) -> dict:
        person = self.request.user
        combination: Any = self.get_queryset().get(pk=record.pk)
        known = soundness(combination, person)
        fills: Any = Fill.objects.visible_to(person).in_use()
        fills = fills.filter(glaze__combination_parts__combination=combination).distinct()
        combination.in_all, combination.by_body_and_cone = known.in_all, known.groups
        combination.tiles = sorted(known.tried.values(), key=lambda tried: tried.tile.number)
        combination.damage = damage_of(combination, person)
        combination.set_aside = set_aside_of(combination, person)
        combination.buckets = (
            fills.select_related("glaze", "bucket").with_standing().order_by("glaze__name", "bucket__code")
        )
        return CombinationKnown(combination, context=self.get_serializer_context()).data

    @extend_schema(responses=CombinationKnown)
    def retrieve(self, request: Any, pk: Any = None) -> Response:
        return super().retrieve(request, pk)

    @extend_schema(responses=CombinationKnown)
    def partial_update(self, request: Any, pk: Any = None) -> Response:
        return super().partial_update(request, pk)
