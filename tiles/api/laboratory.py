"""Laboratory reports over the API: with what their own standard says, and the others; their file up and down."""

from decimal import Decimal
from typing import Any, ClassVar

from django.http import Http404
from django.http.response import HttpResponseBase
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from inventory.api.base import In, Out
from inventory.fields import ConeJsonField
from inventory.models import Glaze
from studio.api.base import SEE, Resource
from studio.api.images import JsonOnlyInTrouble
from studio.api.serializers import IdOf, NewId, PersonRef, Strict
from studio.papers import paper_answer, read_paper
from tiles.actions.laboratory import change_report, create_report, withdraw_report
from tiles.api.calc_leach import LeachOut
from tiles.api.tiles import BodyRef
from tiles.calc.leach import LeachError
from tiles.calc.leach_limits import METALS
from tiles.calc.leach_values import parse_amount
from tiles.filters_laboratory import ReportFilter
from tiles.laboratory import compared, earlier_files, opinion, others, written
from tiles.laboratory_sentences import leach_error_sentence
from tiles.laboratory_words import judged_as_data
from tiles.models import ClayBody, LabLayer, LabReport, LabValue, Layer, Tile

FIELDS = ["laboratory", "report_number", "tested_on", "standard", "category", "method", "form", "remark"]


class OpinionOut(serializers.Serializer):
    """`judged` is null where the figures do not fit the standard; `sentence` says why."""

    standard = serializers.CharField()
    sentence = serializers.CharField()
    judged = LeachOut(allow_null=True)


class ComparedOut(serializers.Serializer):
    """Another metal beside a yardstick, which is no limit for ceramics; `times`: the amount over the value."""

    metal = serializers.CharField()
    amount_mg_per_l = serializers.FloatField()
    is_below = serializers.BooleanField()
    yardstick = serializers.CharField()
    of = serializers.CharField()
    value = serializers.FloatField()
    unit = serializers.CharField()
    times = serializers.FloatField()
    mark = serializers.CharField()
    citation = serializers.CharField()


class LabLayerOut(serializers.ModelSerializer):
    glaze = serializers.UUIDField(source="glaze_id")

    class Meta:
        model = LabLayer
        fields = ["position", "glaze", "lot", "area"]


class LabValueOut(serializers.ModelSerializer):
    """`amount` as the report gives it: "0.12", or "<0.02" below detection."""

    metal = serializers.SerializerMethodField()
    amount = serializers.SerializerMethodField()

    class Meta:
        model = LabValue
        fields = ["piece", "metal", "amount", "unit"]

    def get_metal(self, value: LabValue) -> str:
        return METALS[value.metal]

    def get_amount(self, value: LabValue) -> str:
        return written(value)


class ReportOut(Out):
    """Its file is at `lab-reports/{id}/file/`."""

    by = PersonRef()
    tile = serializers.UUIDField(source="tile_id", allow_null=True)
    body = BodyRef(allow_null=True)
    cone = ConeJsonField(allow_null=True)
    layers = LabLayerOut(many=True)
    figures = LabValueOut(many=True, source="values")
    own = serializers.SerializerMethodField()
    others = serializers.SerializerMethodField()
    compared = serializers.SerializerMethodField()

    class Meta:
        model = LabReport
        fields = [
            *("id", "created_at", "version", *FIELDS, "tile", "body", "cone", "layers", "figures"),
            *("own", "others", "compared", "file_name", "by", "withdrawn_at"),
        ]

    @extend_schema_field(OpinionOut)
    def get_own(self, report: LabReport) -> dict[str, Any]:
        return _opinion(opinion(report, report.standard))

    @extend_schema_field(OpinionOut(many=True))
    def get_others(self, report: LabReport) -> list[dict[str, Any]]:
        return [_opinion(said) for said in others(report)]

    @extend_schema_field(ComparedOut(many=True))
    def get_compared(self, report: LabReport) -> list[dict[str, Any]]:
        return [
            {
                "metal": METALS[found.yardstick.metal],
                "amount_mg_per_l": float(found.amount),
                "is_below": found.is_below,
                "yardstick": found.yardstick.yardstick,
                "of": found.yardstick.of,
                "value": float(found.yardstick.value),
                "unit": found.yardstick.unit,
                "times": float(found.times),
                "mark": found.yardstick.mark,
                "citation": found.yardstick.citation,
            }
            for found in compared(report)
        ]


def _opinion(said: Any) -> dict[str, Any]:
    judged = LeachOut(judged_as_data(said.judged)).data if said.judged else None
    return {"standard": said.standard, "sentence": said.sentence, "judged": judged}


class LabLayerIn(Strict):
    """Without an `area` nobody knows which of several layers was on the food side: such a report lifts nothing."""

    glaze = IdOf(Glaze)
    lot = serializers.CharField(required=False, allow_blank=True, max_length=60, default="")
    area = serializers.ChoiceField(Layer.Area.choices, allow_blank=True, default="")


class LabValueIn(Strict):
    """`amount`: a number, or text such as "<0.02"."""

    piece = serializers.IntegerField(min_value=1, max_value=100)
    metal = serializers.ChoiceField([*METALS.values()])
    amount = serializers.JSONField()
    unit = serializers.ChoiceField(LabValue.Unit.values, default=LabValue.Unit.MG_PER_L)

    def validate_amount(self, sent: Any) -> tuple[Decimal, bool]:
        try:
            amount, is_below = parse_amount(sent)
        except LeachError as error:
            raise serializers.ValidationError(leach_error_sentence(error)) from error
        return (round(amount, 5) if isinstance(sent, float) else amount).normalize(), is_below

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        amount, is_below = attrs["amount"]
        metal = next(symbol for symbol, name in METALS.items() if name == attrs["metal"])
        return attrs | {"amount": amount, "is_below": is_below, "metal": metal}


class ReportChange(In):
    layers = LabLayerIn(many=True, required=False)
    figures = LabValueIn(many=True, required=False)
    tile = IdOf(Tile, required=False, allow_null=True)
    body = IdOf(ClayBody, required=False, allow_null=True)
    cone = ConeJsonField(required=False, allow_null=True)

    class Meta:
        model = LabReport
        fields = [*FIELDS, "tile", "body", "cone", "layers", "figures"]


class ReportNew(NewId, ReportChange):
    """Of a tile, what is not said of layers, body, cone and form is taken from it. The file is sent afterwards."""

    class Meta(ReportChange.Meta):
        fields = ["id", *ReportChange.Meta.fields]


class WithdrawIn(Strict):
    reason = serializers.CharField(max_length=200)


class FileIn(Strict):
    file = serializers.FileField(allow_empty_file=True)


class LabReports(Resource):
    """What laboratories found in fired ware. Nothing is deleted: what was wrong is withdrawn, with a reason."""

    acts: ClassVar = {
        **SEE,
        **dict.fromkeys(["create", "partial_update", "withdraw", "add_file"], "laboratory.note"),
        "file": "studio.see",
    }
    model = LabReport
    serializer_class = ReportOut
    new_class = ReportNew
    change_class = ReportChange
    filterset_class = ReportFilter
    make = create_report
    alter = change_report
    prepared: Any = None

    def rows(self, person: Any) -> Any:
        return LabReport.objects.visible_to(person).with_parts()

    @extend_schema(request=WithdrawIn)
    @action(detail=True, methods=["post"])
    def withdraw(self, request: Any, pk: Any = None) -> Response:
        """It counts no more, and can still be read."""
        report, version = self.get_object(), self.if_match(required=False)
        reason = self.input(WithdrawIn)["reason"]
        return self.answer(withdraw_report(by=request.user, obj=report, reason=reason, version=version))

    def prepare(self, request: Any) -> None:
        if self.action == "add_file" and hasattr(request.data.get("file"), "chunks"):
            self.prepared = read_paper(request.data["file"])

    @extend_schema(
        responses={(200, "application/octet-stream"): OpenApiTypes.BINARY},
        parameters=[
            OpenApiParameter(
                "key", str, description="`before.file_key` in its history: a file since replaced."
            )
        ],
    )
    @action(detail=True, content_negotiation_class=JsonOnlyInTrouble, parser_classes=[MultiPartParser])
    def file(self, request: Any, pk: Any = None) -> HttpResponseBase:
        """The report as it was sent: a PDF or a picture."""
        report = self.get_object()
        if (key := request.query_params.get("key")) is None:
            return paper_answer(report.file_key, report.file_name)
        earlier = next((one for one in earlier_files(report) if one.key == key), None)
        if earlier is None:
            raise Http404
        return paper_answer(earlier.key, earlier.name)

    @extend_schema(request={"multipart/form-data": FileIn}, responses=ReportOut)
    @file.mapping.post
    def add_file(self, request: Any, pk: Any = None) -> Response:
        """Multipart: PDF, JPEG, PNG, WebP or HEIC, 20 MB at most. It takes the place of an earlier one."""
        report = self.get_object()
        file = self.prepared or self.input(FileIn)["file"]
        version = self.if_match(required=False)
        return self.answer(change_report(by=request.user, obj=report, values={"file": file}, version=version))
