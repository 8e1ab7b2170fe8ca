"""The log of a firing: its readings live or as a file, what was worked out of them, and the events beside it."""

from typing import Any, ClassVar

import numpy as np
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from inventory.api.base import Out
from studio.api.base import Reads
from studio.api.parsers import JSONParser
from studio.api.serializers import NewId, Nothing, NumberField, PersonRef, Strict, YesNoField, checked
from studio.errors import Refused
from tiles.actions.events import add_event, take_event_back
from tiles.actions.live import MOST_AT_ONCE, send_readings
from tiles.actions.log_drafts import keep_sent_file
from tiles.actions.logs import take_log_back
from tiles.api.schedules import SaidJson
from tiles.calc.downsample import FEWEST, downsample
from tiles.calc.log_guess import RESETS, TIME_KINDS, UNITS
from tiles.calc.log_table import DELIMITERS
from tiles.heat_sentences import reached_words
from tiles.log_findings import log_findings
from tiles.log_sentences import marks_in_words
from tiles.logs import log_of, unpacked
from tiles.models import Firing, FiringEvent, FiringLog

MOST_POINTS = 5000
# A batch of MOST_AT_ONCE readings is a tenth of this; what is longer is no batch, and is not read.
MOST_BYTES = 1_000_000


class MarkOut(serializers.Serializer):
    """What was odd in the readings, in seconds of the log. Nothing is put right in silence."""

    code = serializers.CharField()
    from_s = serializers.IntegerField(source="from")
    to_s = serializers.IntegerField(source="to")
    params = serializers.DictField()
    sentence = serializers.CharField()


class LogOut(Out):
    """Second 0 is `begins_at`, null where the log tells no clock. `cone` is the hottest whole cone down."""

    firing = serializers.UUIDField(source="firing_id")
    version = serializers.IntegerField(source="firing.version", help_text="That of the firing, for If-Match.")
    cone_words = serializers.SerializerMethodField()
    marks = serializers.SerializerMethodField()
    findings = serializers.SerializerMethodField()

    class Meta:
        model = FiringLog
        fields = [
            "firing",
            "version",
            "source",
            "begins_at",
            "count",
            "last_s",
            "last_c",
            "last_sent_at",
            "peak_s",
            "peak_c",
            "cone",
            "cone_fraction",
            "cone_low",
            "cone_high",
            "cone_words",
            "rate_c_per_h",
            "marks",
            "findings",
        ]

    def get_cone_words(self, log: FiringLog) -> str:
        return (
            reached_words(log.cone, log.cone_fraction, log.cone_low, log.cone_high)
            if log.computed_with
            else ""
        )

    @extend_schema_field(MarkOut(many=True))
    def get_marks(self, log: FiringLog) -> Any:
        return MarkOut(marks_in_words(log.marks, log.begins_at or log.firing.started_at), many=True).data

    @extend_schema_field(SaidJson(many=True))
    def get_findings(self, log: FiringLog) -> Any:
        """How far the cone is to be trusted."""
        return SaidJson(log_findings(log.firing), many=True).data


class SentOut(LogOut):
    """Without the findings: a kiln that sends every few seconds does not read them, and they are reckoned anew."""

    added = serializers.SerializerMethodField(help_text="How many readings were new.")

    class Meta(LogOut.Meta):
        fields = ["added", *(name for name in LogOut.Meta.fields if name != "findings")]

    def get_added(self, log: FiringLog) -> int:
        return int(self.context["added"])


class ReadingIn(Strict):
    """`at` or `elapsed_s`, all of a log alike; `celsius` or `fahrenheit`, null where the instrument said nothing."""

    at = serializers.DateTimeField(required=False)
    elapsed_s = NumberField(required=False)
    celsius = NumberField(required=False, allow_null=True)
    fahrenheit = NumberField(required=False, allow_null=True)

    def validate(self, row: dict[str, Any]) -> dict[str, Any]:
        if ("at" in row) == ("elapsed_s" in row):
            raise serializers.ValidationError({"at": [_("Give either at or elapsed_s.")]})
        if "celsius" in row and "fahrenheit" in row:
            raise serializers.ValidationError({"celsius": [_("Give either celsius or fahrenheit.")]})
        return row


class ReadingsIn(Strict):
    readings = ReadingIn(many=True, help_text=f"At most {MOST_AT_ONCE} at once.")


class ReadingsQuery(Strict):
    points = serializers.IntegerField(min_value=FEWEST, max_value=MOST_POINTS, default=500)


class ReadingsOut(serializers.Serializer):
    """At most `points` of the readings, so that peaks, dips and gaps stay; `celsius` null: no reading."""

    begins_at = serializers.DateTimeField(allow_null=True)
    count = serializers.IntegerField(help_text="Of all readings.")
    readings = serializers.ListField(
        child=serializers.ListField(
            child=serializers.FloatField(allow_null=True), min_length=2, max_length=2
        ),
        help_text="[seconds, celsius]",
    )


class LogFileIn(Strict):
    """The file as the controller wrote it. How it is read is guessed; what is told here is not guessed."""

    file = serializers.FileField()
    time = serializers.IntegerField(required=False, min_value=0, help_text="Column, counted from 0.")
    time_kind = serializers.ChoiceField(TIME_KINDS, required=False)
    day = serializers.IntegerField(required=False, min_value=0)
    days_first = YesNoField(required=False)
    temperature = serializers.IntegerField(required=False, min_value=0)
    target = serializers.IntegerField(required=False, min_value=0)
    unit = serializers.ChoiceField(UNITS, required=False)
    delimiter = serializers.ChoiceField([*DELIMITERS], required=False)
    decimal_comma = YesNoField(required=False)
    skip = serializers.IntegerField(required=False, min_value=0, help_text="Lines before the first reading.")
    resets = serializers.ChoiceField([*RESETS[1:]], required=False, help_text="Where the time starts anew.")
    begins_at = serializers.DateTimeField(required=False)


class ReasonIn(Strict):
    reason = serializers.CharField(max_length=200)


class EventOut(Out):
    firing = serializers.UUIDField(source="firing_id")
    by = PersonRef()

    class Meta:
        model = FiringEvent
        fields = ["id", "created_at", "firing", "at", "words", "by", "taken_back_at"]


class EventNew(NewId):
    words = serializers.CharField(max_length=120)
    at = serializers.DateTimeField(required=False, help_text="Without it, now.")


class FiringLogs(Reads):
    """Everything of one firing's log. A kiln's instrument sends with a device token; nothing here commands a kiln."""

    acts: ClassVar = {
        **dict.fromkeys(["log", "measured", "events"], "studio.see"),
        **dict.fromkeys(["keep", "send", "add_event", "take_event_back"], "firing.log"),
        "take_back": "firing.change",
    }
    model = Firing
    serializer_class = LogOut
    parser_classes = (JSONParser, MultiPartParser)

    def rows(self, person: Any) -> Any:
        return Firing.objects.all()

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        length = request.META.get("CONTENT_LENGTH") or "0"
        is_file = request.content_type.startswith("multipart/")
        if not is_file and length.isdigit() and int(length) > MOST_BYTES:
            raise Refused(
                {
                    "readings": _("This is too much at once. Send %(most)s readings, then the rest.")
                    % {"most": MOST_AT_ONCE}
                }
            )
        super().initial(request, *args, **kwargs)

    def _log(self) -> FiringLog:
        log = log_of(self.get_object())
        if log is None:
            raise Http404(_("This firing has no log."))
        return log

    def _shown(self, log: FiringLog) -> Response:
        log = FiringLog.objects.select_related("firing").get(pk=log.pk)
        body = LogOut(log, context=self.get_serializer_context()).data
        return Response(body, headers=self.etag(log.firing))

    @extend_schema(responses=LogOut)
    def log(self, request: Any, pk: Any = None) -> Response:
        return self._shown(self._log())

    @extend_schema(request={"multipart/form-data": LogFileIn}, responses=LogOut)
    def keep(self, request: Any, pk: Any = None) -> Response:
        """The whole log as a file. One that is there is taken back first; the same file once more changes nothing."""
        return self._shown(keep_sent_file(by=request.user, firing=self.get_object(), **self.input(LogFileIn)))

    @extend_schema(request=ReasonIn, responses={204: None})
    def take_back(self, request: Any, pk: Any = None) -> Response:
        """Its readings are kept beside the firing; the cones are worked out without it."""
        firing, version = self.get_object(), self.if_match(required=False)
        take_log_back(by=request.user, firing=firing, version=version, **self.input(ReasonIn))
        return Response(status=204)

    @extend_schema(parameters=[ReadingsQuery], responses=ReadingsOut)
    def measured(self, request: Any, pk: Any = None) -> Response:
        asked = checked(ReadingsQuery, request.query_params.dict())
        log = self._log()
        readings = unpacked(log, log.firing)
        seconds, celsius = downsample(readings.seconds, readings.celsius, asked["points"])
        pairs = [
            [int(second), None if np.isnan(heat) else round(float(heat), 1)]
            for second, heat in zip(seconds, celsius, strict=True)
        ]
        return Response({"begins_at": readings.begins_at, "count": log.count, "readings": pairs})

    @extend_schema(request=ReadingsIn, responses=SentOut)
    def send(self, request: Any, pk: Any = None) -> Response:
        """Live readings, in any order; sent once more they add nothing. Of one second the hotter stays.

        Taken while the kiln is loaded, firing or cooling, and not over a log that was kept from a file.
        """
        sent = send_readings(by=request.user, firing=self.get_object(), **self.input(ReadingsIn))
        log = FiringLog.objects.select_related("firing").get(pk=sent.log.pk)
        return Response(SentOut(log, context={**self.get_serializer_context(), "added": sent.added}).data)

    @extend_schema(responses=EventOut(many=True))
    def events(self, request: Any, pk: Any = None) -> Response:
        """Those that were taken back too."""
        return self.parts(self.get_object().events.select_related("by"), EventOut)

    @extend_schema(request=EventNew, responses={201: EventOut})
    def add_event(self, request: Any, pk: Any = None) -> Response:
        firing = self.get_object()
        return self.part(firing, add_event(by=request.user, firing=firing, **self.input(EventNew)), EventOut)

    @extend_schema(request=None, responses=EventOut)
    def take_event_back(self, request: Any, pk: Any = None, event: Any = None) -> Response:
        self.input(Nothing)
        found = get_object_or_404(FiringEvent, pk=event, firing=self.get_object())
        return self.part(found.firing, take_event_back(by=request.user, event=found), EventOut, 200)
