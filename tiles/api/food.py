"""The food-contact record over the API: of a glaze, a fill, a tile, a combination, and a pot that is only planned."""

from collections.abc import Callable
from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, viewsets
from rest_framework.generics import get_object_or_404
from rest_framework.response import Response

from inventory.fields import ConeJsonField
from inventory.models import Fill, Glaze
from studio.api.idempotency import Idempotent
from studio.api.serializers import IdOf, Strict, checked
from tiles.food import (
    MOST_LAYERS,
    FoodRecord,
    PotLayer,
    record_of_combination,
    record_of_fill,
    record_of_glaze,
    record_of_pot,
    record_of_tile,
)
from tiles.models import ClayBody, Combination, Kiln, Layer, Tile

VERDICTS = ["kept_away", "not_known", "on_record"]


class FoodLineOut(serializers.Serializer):
    """`verdict` is empty where a line only tells."""

    code = serializers.CharField()
    verdict = serializers.ChoiceField(VERDICTS, allow_blank=True)
    sentence = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]


class NearOut(serializers.Serializer):
    """A laboratory report of ware that is near: it lifts nothing."""

    report = serializers.UUIDField(source="report.pk")
    words = serializers.CharField()
    verdict = serializers.CharField(allow_null=True)
    differs = serializers.ListField(child=serializers.CharField())


class BesideOut(serializers.Serializer):
    sentence = serializers.CharField(source="0")
    source = serializers.CharField(source="1")  # type: ignore[assignment]


class FoodOut(serializers.Serializer):
    """The worst of the lines; `words` is what a page says. Never that anything is fit for food."""

    verdict = serializers.ChoiceField(VERDICTS)
    words = serializers.CharField()
    lines = FoodLineOut(many=True)
    near = NearOut(many=True)
    beside = serializers.SerializerMethodField(help_text="What always goes with it.")

    def get_beside(self, food: FoodRecord) -> BesideOut(many=True):  # type: ignore[valid-type]
        return [{"sentence": sentence, "source": source} for sentence, source in food.beside]


class FoodRecords(Idempotent, viewsets.GenericViewSet):
    """Read anew each time it is asked: a verdict is kept nowhere."""

    acts: ClassVar = {
        "glaze": "studio.see",
        "fill": "studio.see",
        "tile": "studio.see",
        "combination": "studio.see",
    }
    without_version = True
    http_method_names = ("get", "head")
    filter_backends = ()
    pagination_class = None
    serializer_class = FoodOut

    def _of(self, rows: Any, record: Callable[[Any], FoodRecord], pk: Any) -> Response:
        return Response(FoodOut(record(get_object_or_404(rows, pk=pk))).data)

    @extend_schema(operation_id="glazes_food")
    def glaze(self, request: Any, pk: Any = None) -> Response:
        """Of a glaze by itself: what is in it, and what the labels and flags of its buckets say."""
        return self._of(Glaze.objects.all(), record_of_glaze, pk)

    @extend_schema(operation_id="fills_food")
    def fill(self, request: Any, pk: Any = None) -> Response:
        """Of what is in a bucket."""
        rows = Fill.objects.visible_to(request.user).select_related("glaze", "bucket")
        return self._of(rows, record_of_fill, pk)

    @extend_schema(operation_id="tiles_food")
    def tile(self, request: Any, pk: Any = None) -> Response:
        """Of one tile, with all that was done to it and seen on it."""
        return self._of(Tile.objects.visible_to(request.user).select_related("body"), record_of_tile, pk)

    @extend_schema(operation_id="combinations_food")
    def combination(self, request: Any, pk: Any = None) -> Response:
        """Of glazes over one another, with what was seen on the tiles that the person may see."""
        rows = Combination.objects.visible_to(request.user)
        return self._of(rows, lambda found: record_of_combination(found, request.user), pk)


class PotLayerIn(Strict):
    """Out of a bucket (`fill`), or only which `glaze` it would be; what is left out of the rest is not known."""

    fill = IdOf(Fill, required=False)
    glaze = IdOf(Glaze, required=False)
    area = serializers.ChoiceField(Layer.Area.choices, default=Layer.Area.WHOLE)
    ground = serializers.ChoiceField(Layer.Ground.choices, required=False)
    stirred_in = IdOf(Glaze, required=False)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if ("fill" in attrs) == ("glaze" in attrs):
            raise serializers.ValidationError({"fill": ["Give the fill, or the glaze; not both."]})
        return attrs


class PotIn(Strict):
    """Layers from the clay outwards; what is left out is not known."""

    layers = serializers.ListField(child=PotLayerIn(), max_length=MOST_LAYERS)
    body = IdOf(ClayBody, required=False, allow_null=True)
    cone = ConeJsonField(required=False, allow_null=True)
    form = serializers.CharField(required=False, allow_blank=True, max_length=60)
    kiln = IdOf(Kiln, required=False, allow_null=True)


class Pots(Idempotent, viewsets.GenericViewSet):
    """A pot that is only planned. Nothing is kept."""

    acts: ClassVar = {"food": "studio.see"}
    only_reckons = True
    without_version = True
    http_method_names = ("post",)
    filter_backends = ()
    pagination_class = None
    serializer_class = FoodOut

    @extend_schema(request=PotIn, responses=FoodOut, operation_id="pots_food")
    def food(self, request: Any) -> Response:
        values = checked(PotIn, request.data, context=self.get_serializer_context())
        layers = [
            PotLayer(
                glaze=row["fill"].glaze if "fill" in row else row["glaze"],
                fill=row.get("fill"),
                area=row["area"],
                ground=row.get("ground", ""),
                stirred_in=row.get("stirred_in"),
            )
            for row in values.pop("layers")
        ]
        return Response(FoodOut(record_of_pot(layers, person=request.user, **values)).data)
