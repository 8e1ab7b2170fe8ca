"""What serializers of the shelf and the wall share: cones and gravities in JSON, short references, reasons in words."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from inventory.fields import ConeField, ConeJsonField
from inventory.models import Bucket, Fill, Glaze, Place
from inventory.sentences import figures, food_words, reason_sentence, use_words
from studio.api.serializers import StrictModel

MAPPING = {**serializers.ModelSerializer.serializer_field_mapping, ConeField: ConeJsonField}


class Out(serializers.ModelSerializer):
    """What the API shows of a model."""

    serializer_field_mapping = MAPPING


class In(StrictModel):
    """What the API takes in for a model."""

    serializer_field_mapping = MAPPING


class GlazeRef(Out):
    class Meta:
        model = Glaze
        fields = ["id", "name", "kind"]


class PlaceRef(Out):
    class Meta:
        model = Place
        fields = ["id", "name"]


class BucketRef(Out):
    class Meta:
        model = Bucket
        fields = ["id", "code"]


class Reason(serializers.Serializer):
    """A code, and the sentence that a page shows for it."""

    code = serializers.CharField()
    sentence = serializers.CharField()


class StandingFields(serializers.ModelSerializer):
    """The two axes of a fill that was read `with_standing`: may it be used, and what is known of it and food."""

    sg = serializers.DecimalField(max_digits=4, decimal_places=3, allow_null=True, read_only=True)
    sg_at = serializers.DateTimeField(allow_null=True, read_only=True)
    use = serializers.ChoiceField(["use", "ask", "do_not_use"], read_only=True)
    use_words = serializers.SerializerMethodField()
    use_reasons = serializers.SerializerMethodField()
    notes = serializers.SerializerMethodField()
    food = serializers.CharField(read_only=True)
    food_words = serializers.SerializerMethodField()
    food_reasons = serializers.SerializerMethodField()

    class Meta:
        model = Fill
        fields = [
            "sg",
            "sg_at",
            "use",
            "use_words",
            "use_reasons",
            "notes",
            "food",
            "food_words",
            "food_reasons",
        ]

    def get_use_words(self, fill: Any) -> str:
        return use_words(fill.use)

    def get_food_words(self, fill: Any) -> str:
        return food_words(fill.food)

    @extend_schema_field(Reason(many=True))
    def get_use_reasons(self, fill: Any) -> list[dict]:
        return reasons(fill, fill.standing.use_reasons)

    @extend_schema_field(Reason(many=True))
    def get_notes(self, fill: Any) -> list[dict]:
        return reasons(fill, fill.standing.notes)

    @extend_schema_field(Reason(many=True))
    def get_food_reasons(self, fill: Any) -> list[dict]:
        return reasons(fill, fill.standing.food_reasons)


def reasons(fill: Any, codes: tuple[str, ...]) -> list[dict]:
    """[{code, sentence}], with the fill's own figures in the sentences."""
    params = figures(fill)
    return [{"code": code, "sentence": reason_sentence(code, **params)} for code in codes]
