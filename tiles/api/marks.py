"""Marking the tiles of a flag over the API, with the firings and combinations that used its bucket."""

from typing import Any, ClassVar

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.generics import get_object_or_404
from rest_framework.response import Response

from inventory.api.base import Out
from inventory.models import Flag
from studio.api.base import Reads
from studio.api.filters import refuse_unknown
from studio.api.serializers import PersonRef, Strict, checked
from tiles import actions
from tiles.models import Combination, Firing, FlagMark, Tile
from tiles.queries_marks import marks_seen
from tiles.touching import combinations_of, firings_of, still_to_mark, tiles_of, touched_layers


class MarkedTile(Out):
    class Meta:
        model = Tile
        fields = ["id", "number"]


class FlagMarkOut(Out):
    """`batch` is the step in which it was marked together with others; `undone_at` when that was taken back."""

    tile = MarkedTile()
    by = PersonRef()

    class Meta:
        model = FlagMark
        fields = ["id", "created_at", "tile", "batch", "by", "undone_at"]


class FlagMarkIn(Strict):
    """Without `since`: since the moment that the flag itself names."""

    since = serializers.DateTimeField(required=False, allow_null=True)


class FlagUndoIn(Strict):
    batch = serializers.UUIDField()
    reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class MarkedOut(serializers.Serializer):
    """The marks of one step."""

    batch = serializers.UUIDField()
    tiles = MarkedTile(many=True)


class UsedCombination(Out):
    name = serializers.CharField(source="__str__")

    class Meta:
        model = Combination
        fields = ["id", "name"]


class UsedFiring(Out):
    class Meta:
        model = Firing
        fields = ["id", "number", "state"]


class SetAsideOut(serializers.Serializer):
    """How many of the tiles that the person may see are set aside because of a flag."""

    flag = serializers.UUIDField(source="flag.pk")
    kind = serializers.ChoiceField(Flag.Kind.choices, source="flag.kind")
    bucket = serializers.CharField(source="flag.fill.bucket.code")
    is_lifted = serializers.BooleanField(
        help_text="It never was so; the marks stay until somebody takes them back."
    )
    tile_count = serializers.IntegerField()


class UsedOut(serializers.Serializer):
    """What used the bucket: how many tiles (listed at `flags/{id}/tiles/`), how many of them are not marked yet."""

    tile_count = serializers.IntegerField()
    not_marked_count = serializers.IntegerField()
    combinations = UsedCombination(many=True)
    firings = UsedFiring(many=True)


class UsedQuery(serializers.Serializer):
    since = serializers.DateTimeField(required=False, help_text="Instead of the flag's own moment.")


class FlagMarks(Reads):
    """Every tile that a flag touches, set aside in one step and given back in one."""

    acts: ClassVar = {"list": "studio.see", "create": "mark.set", "undo": "mark.set", "used": "studio.see"}
    model = FlagMark
    serializer_class = FlagMarkOut

    @property
    def flag(self) -> Flag:
        flags = Flag.objects.visible_to(self.request.user).with_story()
        return get_object_or_404(flags, pk=self.kwargs["pk"])

    def rows(self, person: Any) -> Any:
        return marks_seen(self.flag, person)

    def list(self, request: Any, pk: Any = None) -> Response:
        """Every mark that was ever set for this flag, newest first."""
        return super().list(request)

    @extend_schema(request=FlagMarkIn, responses={201: MarkedOut})
    def create(self, request: Any, pk: Any = None) -> Response:
        """Mark every tile that used the bucket since then and is not marked for this flag yet."""
        marks = actions.mark_touched(by=request.user, flag=self.flag, **self.input(FlagMarkIn))
        return Response(_step(marks), status=201)

    @extend_schema(request=FlagUndoIn, responses=MarkedOut)
    def undo(self, request: Any, pk: Any = None) -> Response:
        """Take back what is left of one step."""
        marks = actions.undo_marks(by=request.user, flag=self.flag, **self.input(FlagUndoIn))
        return Response(_step(marks))

    @extend_schema(
        parameters=[OpenApiParameter("since", {"type": "string", "format": "date-time"})], responses=UsedOut
    )
    def used(self, request: Any, pk: Any = None) -> Response:
        """The combinations and firings that used the bucket since then, of the tiles that one may see."""
        refuse_unknown(name for name in request.query_params if name != "since")
        asked = checked(UsedQuery, request.query_params.dict())
        flag = self.flag
        layers = touched_layers(flag, asked.get("since"))
        tiles = tiles_of(layers).visible_to(request.user)
        layers = layers.filter(tile__in=tiles)
        found = {
            "tile_count": tiles.count(),
            "not_marked_count": still_to_mark(flag, tiles).count(),
            "combinations": combinations_of(layers),
            "firings": firings_of(layers),
        }
        return Response(UsedOut(found).data)


def _step(marks: list[FlagMark]) -> dict[str, Any]:
    return MarkedOut({"batch": marks[0].batch, "tiles": [mark.tile for mark in marks]}).data
