"""What a kiln really does, over the API: the offsets of its shelves, what to set, its wear."""

from typing import Any, ClassVar

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import exceptions, serializers
from rest_framework.response import Response

from inventory.calc.cones import Cone, ConeError
from inventory.fields import ConeJsonField
from inventory.sentences import cone_error_sentence
from studio.api.base import Reads
from studio.api.filters import refuse_unknown
from tiles.calc.programme import Programme
from tiles.kiln_advice import advise, middle, next_firing
from tiles.kiln_sentences import advice_words, hotter_words, offset_words
from tiles.kiln_truth import KilnTruth
from tiles.models import Firing, Kiln, PartChange
from tiles.wear import wear_of


class ShelfJson(serializers.Serializer):
    """In °C, the shelf less the instrument; `low_c` to `high_c` holds it four times in five. Null: not known yet."""

    position = serializers.CharField()
    mean_c = serializers.FloatField(allow_null=True)
    median_c = serializers.FloatField(allow_null=True)
    low_c = serializers.FloatField(allow_null=True)
    high_c = serializers.FloatField(allow_null=True)
    firings = serializers.IntegerField()
    cones = serializers.IntegerField()
    words = serializers.CharField()


class WearJson(serializers.Serializer):
    """Firings since the part was put in; without `changed_on` all that are written down. `last` is the reminder."""

    part = serializers.ChoiceField(PartChange.Part.choices)
    firings = serializers.IntegerField()
    last = serializers.IntegerField(allow_null=True)
    changed_on = serializers.DateField(allow_null=True)
    is_due = serializers.BooleanField()


class TruthOut(serializers.Serializer):
    """`firings` are those that count: with a log, and witness cones read at a position, since `since`."""

    firings = serializers.IntegerField()
    since = serializers.DateField(allow_null=True)
    shelves = ShelfJson(many=True)
    fastest_climb_c_per_h = serializers.FloatField(allow_null=True)
    fastest_fall_c_per_h = serializers.FloatField(allow_null=True)
    wear = WearJson(many=True)


class AtJson(serializers.Serializer):
    """A whole cone, and the way from it to the next (0 to 1)."""

    cone = ConeJsonField()
    fraction = serializers.FloatField()


class HotterJson(AtJson):
    position = serializers.CharField()


class ProgrammeOut(serializers.Serializer):
    """Nothing is sent to a kiln. With a `code` there is no advice, and `sentence` says why.

    `shift_c` is what to add to the cone's own end point on the instrument, within `low_c` to `high_c`; `at` is the
    same as a cone.
    """

    code = serializers.CharField()
    sentence = serializers.CharField()
    cone = ConeJsonField()
    position = serializers.CharField()
    shift_c = serializers.FloatField(allow_null=True)
    low_c = serializers.FloatField(allow_null=True)
    high_c = serializers.FloatField(allow_null=True)
    at = AtJson(allow_null=True)
    hotter = HotterJson(many=True)
    warnings = serializers.ListField(child=serializers.CharField())


class KilnPages(Reads):
    """What is reckoned of one kiln from its history."""

    acts: ClassVar = {"truth": "studio.see", "programme": "studio.see"}
    model = Kiln
    serializer_class = TruthOut

    def rows(self, person: Any) -> Any:
        return Kiln.objects.all()

    @extend_schema(operation_id="kilns_truth_retrieve", responses=TruthOut)
    def truth(self, request: Any, pk: Any = None) -> Response:
        refuse_unknown(request.query_params)
        kiln = self.get_object()
        truth = KilnTruth(kiln)
        climb, fall = truth.fastest
        found = {
            "firings": truth.counted,
            "since": truth.since,
            "shelves": [_shelf(shelf) for shelf in truth.shelves],
            "fastest_climb_c_per_h": climb,
            "fastest_fall_c_per_h": fall,
            "wear": [
                {
                    "part": wear.part,
                    "firings": wear.firings,
                    "last": wear.last,
                    "changed_on": wear.change and wear.change.changed_on,
                    "is_due": wear.is_due,
                }
                for wear in wear_of([kiln])
            ],
        }
        return Response(TruthOut(found).data)

    @extend_schema(
        operation_id="kilns_programme_retrieve",
        responses=ProgrammeOut,
        parameters=[
            OpenApiParameter(
                "cone", str, description="The cone that is to come true; the next firing's without it."
            ),
            OpenApiParameter("position", str, description="One of the kiln's; the middle one without it."),
            OpenApiParameter(
                "firing", str, description="Whose load sets the limit; the next one without it."
            ),
        ],
    )
    def programme(self, request: Any, pk: Any = None) -> Response:
        asked = request.query_params
        refuse_unknown(name for name in asked if name not in ("cone", "position", "firing"))
        kiln = self.get_object()
        load = _load(kiln, asked["firing"]) if "firing" in asked else next_firing(kiln)
        position = asked.get("position", middle(kiln))
        if position not in kiln.positions:
            known = ", ".join(kiln.positions)
            raise exceptions.ValidationError({"position": [f"The positions of this kiln are: {known}."]})
        cone = _cone(asked["cone"]) if "cone" in asked else load.target_cone if load else None
        if cone is None:
            raise exceptions.ValidationError(
                {"cone": ["Say which cone, such as ?cone=6: no firing is planned."]}
            )
        found = advise(KilnTruth(kiln), cone, position, load, request.user)
        return Response(ProgrammeOut(_programme(found)).data)


def _shelf(shelf: Any) -> dict[str, Any]:
    figures = ("mean_c", "median_c", "low_c", "high_c")
    return {
        "position": shelf.position,
        **{name: round(getattr(shelf, name), 2) if shelf.cones else None for name in figures},
        "firings": shelf.firings,
        "cones": shelf.cones,
        "words": offset_words(shelf),
    }


def _programme(found: Programme) -> dict[str, Any]:
    return {
        "code": found.code,
        "sentence": advice_words(found),
        "cone": found.asked,
        "position": found.position,
        **{
            name: None if (figure := getattr(found, name)) is None else round(figure, 2)
            for name in ("shift_c", "low_c", "high_c")
        },
        "at": found.at,
        "hotter": [
            {"position": position, "cone": at.cone, "fraction": at.fraction} for position, at in found.hotter
        ],
        "warnings": hotter_words(found),
    }


def _cone(text: str) -> Cone:
    try:
        return Cone.parse(text)
    except ConeError as error:
        raise exceptions.ValidationError({"cone": [cone_error_sentence(error)]}) from error


def _load(kiln: Kiln, key: str) -> Firing:
    try:
        found = serializers.UUIDField().to_internal_value(key)
    except serializers.ValidationError as error:
        raise exceptions.ValidationError({"firing": ["Give the id of a firing."]}) from error
    firing = kiln.firings.filter(pk=found).first()
    if firing is None:
        raise exceptions.ValidationError({"firing": ["This kiln has no such firing."]})
    return firing
