"""The parts of a tile in JSON: layers, zones, outcomes, photos, firings."""

from typing import Any

from django.db.models import Model
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.reverse import reverse

from inventory.api.base import BucketRef, GlazeRef, In, Out, Reason
from inventory.models import Fill, Glaze
from inventory.sentences import reason_sentence
from studio.api.serializers import IdOf, NewId, PersonRef, Strict
from studio.photos import SIZES
from tiles.actions.many import COPIED
from tiles.models import Combination, Firing, Layer, Outcome, OutcomeFault, Photo, TileFiring, TileZone

LAYER_FIELDS = [*COPIED, "ground_state", "is_even", "applied_at"]
LOOK_FIELDS = [
    "zone",
    "combination",
    "firing",
    "looked_on",
    "surface",
    "opacity",
    "movement_mm",
    "colour",
    "verdict",
    "damage",
    "remark",
    "faults",
]
# What the parts show beyond `for_the_wall()`.
PARTS = (
    "layers__by",
    "zones__combination__parts__glaze",
    "outcomes__by",
    "photos__by",
    "tile_firings__firing",
    "acknowledgements__by",
)


class FillRef(Out):
    bucket = BucketRef()

    class Meta:
        model = Fill
        fields = ["id", "bucket"]


class LayerOut(Out):
    """`..._then` is what was known of its bucket when it was put on."""

    glaze = GlazeRef()
    fill = FillRef(allow_null=True)
    stirred_in = GlazeRef(allow_null=True)
    precedes = serializers.UUIDField(source="precedes_id", allow_null=True)
    by = PersonRef()
    reasons_then = serializers.SerializerMethodField()

    class Meta:
        model = Layer
        fields = [
            "id",
            "position",
            *LAYER_FIELDS,
            "precedes",
            "by",
            "sg_then",
            "use_then",
            "food_then",
            "reasons_then",
        ]

    @extend_schema_field(Reason(many=True))
    def get_reasons_then(self, layer: Layer) -> list[dict]:
        return [{"code": code, "sentence": reason_sentence(code)} for code in layer.reasons_then]


class LayerChange(In):
    glaze = IdOf(Glaze, required=False)
    fill = IdOf(Fill, required=False, allow_null=True)
    stirred_in = IdOf(Glaze, required=False, allow_null=True)

    class Meta:
        model = Layer
        fields = LAYER_FIELDS


class LayerNew(NewId, LayerChange):
    """A glaze, or a fill whose glaze it is."""

    class Meta(LayerChange.Meta):
        fields = ["id", *LAYER_FIELDS]


class ZoneOut(Out):
    combination = serializers.UUIDField(source="combination_id")
    glazes = serializers.SerializerMethodField()
    regions = serializers.ListField(child=serializers.CharField())
    layer_positions = serializers.SerializerMethodField(help_text="As `position` of the layers, from 1.")

    class Meta:
        model = TileZone
        fields = ["kind", "combination", "glazes", "regions", "layer_positions"]

    def get_layer_positions(self, zone: TileZone) -> list[int]:
        return [position + 1 for position in zone.layer_positions]

    @extend_schema_field(GlazeRef(many=True))
    def get_glazes(self, zone: TileZone) -> Any:
        return GlazeRef([part.glaze for part in zone.combination.parts.all()], many=True).data


class FaultIn(In):
    class Meta:
        model = OutcomeFault
        fields = ["kind", "where"]


class FaultOut(Out):
    class Meta:
        model = OutcomeFault
        fields = ["kind", "where"]


class OutcomeOut(Out):
    combination = serializers.UUIDField(source="combination_id", allow_null=True)
    firing = serializers.UUIDField(source="firing_id", allow_null=True)
    by = PersonRef()
    faults = FaultOut(many=True)

    class Meta:
        model = Outcome
        fields = ["id", "created_at", *LOOK_FIELDS, "by"]


class OutcomeBackOut(OutcomeOut):
    """It counts for nothing any more, and stays in the tile's story."""

    taken_back_by = PersonRef()

    class Meta(OutcomeOut.Meta):
        fields = [*OutcomeOut.Meta.fields, "taken_back_at", "taken_back_by", "taken_back_why"]
        read_only_fields = fields


class OutcomeBackIn(Strict):
    reason = serializers.CharField(max_length=200)


class OutcomeNew(NewId, In):
    """Say at least one thing."""

    combination = IdOf(Combination, required=False, allow_null=True)
    firing = IdOf(Firing, required=False, allow_null=True)
    faults = FaultIn(many=True, required=False)

    class Meta:
        model = Outcome
        fields = ["id", *LOOK_FIELDS]


class PhotoAddresses(serializers.Serializer):
    small = serializers.URLField()
    medium = serializers.URLField()
    large = serializers.URLField()


class PhotoOut(Out):
    """Every size is streamed by the service to whoever may see the tile."""

    tile = serializers.UUIDField(source="tile_id")
    outcome = serializers.UUIDField(source="outcome_id", allow_null=True)
    by = PersonRef()
    addresses = serializers.SerializerMethodField()

    class Meta:
        model = Photo
        fields = [
            "id",
            "created_at",
            "tile",
            "outcome",
            "width",
            "height",
            "taken_at",
            "stage",
            "caption",
            "by",
            "addresses",
        ]

    @extend_schema_field(PhotoAddresses)
    def get_addresses(self, photo: Model) -> dict[str, str]:
        address = reverse("api-photos-image", args=[photo.pk], request=self.context.get("request"))
        return {size: f"{address}?size={size}" for size in SIZES}


class PhotoNew(NewId):
    photo = serializers.FileField()
    caption = serializers.CharField(required=False, allow_blank=True, max_length=160)
    stage = serializers.ChoiceField(
        Photo.Stage.choices, required=False, help_text="Without it, as the tile is now."
    )
    outcome = IdOf(Outcome, required=False)


class TileFiringOut(Out):
    """Where it stood, and the cone that it saw by the evidence that `cone_basis` names."""

    firing = serializers.UUIDField(source="firing_id")
    number = serializers.IntegerField(source="firing.number")
    kind = serializers.CharField(source="firing.kind")

    class Meta:
        model = TileFiring
        fields = ["firing", "number", "kind", "position", "cone", "cone_basis", "cone_below"]
