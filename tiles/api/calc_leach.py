"""`POST /api/v1/calc/leach/`: what figures say against a published limit. Nothing is read or kept."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from studio.api.calculator import Calculator
from studio.api.serializers import FindingSaid, Strict, checked
from studio.errors import Refused
from tiles.calc.leach import LeachError, judge
from tiles.laboratory_sentences import leach_error_sentence
from tiles.laboratory_words import judged_as_data


class LeachIn(Strict):
    """`results`: one object to a piece. Its keys are a metal with its unit (`lead_mg_per_l`, `cadmium_mg_per_dm2`), its
    values a number or "<0.02", which is counted at its bound.
    """

    standard = serializers.CharField()
    category = serializers.CharField()
    results = serializers.ListField(
        child=serializers.DictField(child=serializers.JSONField()), max_length=200
    )


class LeachMetalOut(serializers.Serializer):
    """`counted` is the mean or the worst piece; `mark` of the number, `rule_mark` of the rule; memory: unverified."""

    metal = serializers.CharField()
    verdict = serializers.CharField()
    limit = serializers.FloatField()
    unit = serializers.CharField()
    kind = serializers.ChoiceField(["limit", "action level", "warning level"])
    basis = serializers.ChoiceField(["mean", "each"])
    counted = serializers.FloatField()
    counted_is_bound = serializers.BooleanField(
        help_text="Not measured: at most that, by the limit of detection."
    )
    pieces = serializers.IntegerField()
    pieces_needed = serializers.IntegerField()
    pieces_above = serializers.ListField(child=serializers.IntegerField())
    is_boundary = serializers.BooleanField()
    own_category = serializers.CharField()
    version = serializers.CharField()
    mark = serializers.ChoiceField(["read", "read-2nd", "memory"])
    rule_mark = serializers.ChoiceField(["read", "read-2nd", "memory"])
    is_unverified = serializers.BooleanField()
    read_on = serializers.CharField()
    citation = serializers.CharField()


class LeachOut(serializers.Serializer):
    standard = serializers.CharField()
    category = serializers.CharField()
    verdict = serializers.ChoiceField(["over", "within", "more-pieces-needed", "cannot-say"])
    sentence = serializers.CharField()
    pieces_needed = serializers.IntegerField()
    is_boundary = serializers.BooleanField()
    not_measured = serializers.ListField(
        child=serializers.CharField(), help_text="Limited, and without a figure."
    )
    metals = LeachMetalOut(many=True)
    citation = serializers.CharField()
    findings = FindingSaid(many=True)


class LeachCalculator(Calculator):
    """What a laboratory's figures say beside a published limit."""

    acts: ClassVar = {"leach": "studio.see"}
    serializer_class = LeachOut

    @extend_schema(request=LeachIn, responses=LeachOut, operation_id="calc_leach")
    def leach(self, request: Any) -> Response:
        said = checked(LeachIn, request.data)
        try:
            judged = judge(**said)
        except LeachError as error:
            raise Refused({str(error.params.get("field", "results")): leach_error_sentence(error)}) from error
        return Response(LeachOut(judged_as_data(judged)).data)
