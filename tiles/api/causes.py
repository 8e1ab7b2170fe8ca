"""Likely causes of a fault, the trials that would find out, and the table that they are reckoned from."""

from typing import Any, ClassVar

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import exceptions, serializers, status, viewsets
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.response import Response

from inventory.api.base import In, Out
from studio.api.base import SEE, Reads, Resource
from studio.api.filters import refuse_unknown
from studio.api.idempotency import Idempotent
from studio.api.serializers import IdOf, NewId, PersonRef, Strict, checked
from tiles import actions
from tiles.calc.causes import OBSERVATIONS
from tiles.causes import faults_of, number_of, text_of, version_in_force, why
from tiles.models import CauseTable, OutcomeFault, RemedyTrial, Tile

FAULTS = OutcomeFault.Kind.choices
IF_MATCH = OpenApiParameter(
    "If-Match",
    str,
    OpenApiParameter.HEADER,
    description="The ETag of the table that was changed; left out, the newest is replaced.",
)


class LikelyOut(serializers.Serializer):
    """`share_words` is a word and no figure: priors and weights are judged, and nobody has counted them."""

    code = serializers.CharField()
    words = serializers.CharField()
    share_words = serializers.CharField()
    speaks_for = serializers.ListField(child=serializers.CharField())
    speaks_against = serializers.ListField(child=serializers.CharField())
    remedy = serializers.CharField()
    trial = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]
    tried = serializers.CharField(allow_blank=True)


class QuestionOut(serializers.Serializer):
    code = serializers.CharField()
    words = serializers.CharField()


class WhyOut(serializers.Serializer):
    fault = serializers.ChoiceField(FAULTS)
    causes = LikelyOut(many=True)
    tells_apart = QuestionOut(allow_null=True)
    caution = serializers.CharField(allow_blank=True)


class WhyAsked(Strict):
    fault = serializers.ChoiceField(FAULTS, required=False)
    yes = serializers.CharField(required=False, allow_blank=True)
    no = serializers.CharField(required=False, allow_blank=True)


class CausesOfTile(viewsets.ViewSet):
    """Why a fault came about: the causes in the order of how likely they are, never certain."""

    acts: ClassVar = {"retrieve": "studio.see"}
    http_method_names = ("get", "head")

    @extend_schema(
        operation_id="tiles_causes_retrieve",
        responses=WhyOut,
        parameters=[
            OpenApiParameter("fault", str, enum=[code for code, _label in FAULTS]),
            OpenApiParameter("yes", str, description="Observations that are so, with commas between them."),
            OpenApiParameter("no", str, description="Observations that are not so."),
        ],
    )
    def retrieve(self, request: Any, pk: Any = None) -> Response:
        """Without `fault`: of the one that was noted first."""
        tile = get_object_or_404(Tile.objects.visible_to(request.user).select_related("body"), pk=pk)
        asked = checked(WhyAsked, request.query_params.dict())
        faults = faults_of(tile)
        fault = asked.get("fault") or (faults[0] if faults else None)
        if fault not in faults:
            raise exceptions.ValidationError({"fault": ["Nobody has noted this fault on the tile."]})
        answers = _answers(asked)
        return Response(WhyOut(why(tile, fault, request.user, answers)).data)


def _answers(sent: dict[str, Any]) -> dict[str, bool]:
    answers = {}
    for name in ("no", "yes"):
        for code in filter(None, sent.get(name, "").split(",")):
            if code not in OBSERVATIONS:
                raise exceptions.ValidationError({name: [f"There is no observation {code}."]})
            answers[code] = name == "yes"
    return answers


class RemedyOut(Out):
    """`new_tile` is null too where the person may not see that tile."""

    tile = serializers.UUIDField(source="tile_id")
    new_tile = serializers.SerializerMethodField()
    by = PersonRef()

    class Meta:
        model = RemedyTrial
        fields = [
            "id",
            "version",
            "created_at",
            "tile",
            "fault",
            "cause",
            "change",
            "new_tile",
            "helped",
            "said_at",
            "by",
            "dropped_at",
        ]

    def get_new_tile(self, trial: Any) -> str | None:
        return str(trial.new_tile_id) if trial.sees_new else None


class RemedyNew(NewId):
    """Without `change`, what the table of causes advises; `reserve` gives the new tile its number."""

    tile = IdOf(Tile)
    fault = serializers.ChoiceField(FAULTS)
    cause = serializers.CharField(max_length=40)
    change = serializers.CharField(required=False, allow_blank=True, max_length=200)
    reserve = serializers.BooleanField(required=False)


class RemedyChange(In):
    new_tile = IdOf(Tile, required=False, allow_null=True)

    class Meta:
        model = RemedyTrial
        fields = ["change", "new_tile", "helped"]


class DropIn(Strict):
    reason = serializers.CharField(required=False, allow_blank=True)


class RemedyTrials(Resource):
    """Tiles made again with one change, to find out whether a cause was the one."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "partial_update", "drop"], "remedy.plan")}
    model = RemedyTrial
    serializer_class = RemedyOut
    new_class, make = RemedyNew, actions.plan_remedy
    change_class, alter = RemedyChange, actions.change_remedy

    def rows(self, person: Any) -> Any:
        return RemedyTrial.objects.visible_to(person).select_related("by")

    @extend_schema(request=DropIn)
    @action(detail=True, methods=["post"])
    def drop(self, request: Any, pk: Any = None) -> Response:
        """It will not be made, and counts no more."""
        trial, version = self.get_object(), self.if_match(required=False)
        dropped = actions.drop_remedy(by=request.user, obj=trial, version=version, **self.input(DropIn))
        return self.answer(dropped)


class VersionOut(Out):
    by = PersonRef()

    class Meta:
        model = CauseTable
        fields = ["id", "created_at", "reason", "is_standard", "by"]


class TableOut(serializers.Serializer):
    """`table` is a CSV; `version` is null where the standard table is in force."""

    table = serializers.CharField()
    version = VersionOut(allow_null=True)


class TableNew(NewId):
    table = serializers.CharField(trim_whitespace=False)
    reason = serializers.CharField(max_length=200)


class RestoreIn(Strict):
    version = IdOf(CauseTable, allow_null=True, help_text="null: the standard table.")


class Causes(Idempotent, viewsets.GenericViewSet):
    """The table of causes. Every version is kept."""

    acts: ClassVar = {"retrieve": "studio.see", **dict.fromkeys(["create", "restore"], "cause.change")}
    serializer_class = TableOut
    queryset = CauseTable.objects.all()
    http_method_names = ("get", "head", "post")
    if_match: Any = Reads.if_match

    def _now(self, code: int = status.HTTP_200_OK) -> Response:
        version = version_in_force()
        shown = None if version is None or version.is_standard else version
        body = TableOut({"table": text_of(version), "version": shown}).data
        return Response(body, status=code, headers={"ETag": f'"{number_of(version)}"'})

    def _input(self, serializer_class: type[serializers.BaseSerializer]) -> dict:
        return checked(serializer_class, self.request.data, context=self.get_serializer_context())

    @extend_schema(operation_id="causes_retrieve", responses=TableOut)
    def retrieve(self, request: Any) -> Response:
        """The one in force."""
        refuse_unknown(request.query_params)
        return self._now()

    @extend_schema(
        operation_id="causes_create", request=TableNew, responses={201: TableOut}, parameters=[IF_MATCH]
    )
    def create(self, request: Any) -> Response:
        """Another table in force; what is wrong with one is said with its row and column."""
        read = self.if_match(required=False)
        actions.change_causes(by=request.user, version=read, **self._input(TableNew))
        return self._now(status.HTTP_201_CREATED)

    @extend_schema(operation_id="causes_restore", request=RestoreIn, responses=TableOut)
    def restore(self, request: Any) -> Response:
        actions.restore_causes(by=request.user, **self._input(RestoreIn))
        return self._now()


class CauseVersions(Reads):
    """Every table that was put in force, the newest first."""

    acts: ClassVar = {"list": "studio.see"}
    model = CauseTable
    serializer_class = VersionOut

    def rows(self, person: Any) -> Any:
        return CauseTable.objects.select_related("by")
