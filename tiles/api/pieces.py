"""Members' own ware in a firing, over the API."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory.api.base import In, Out
from studio.api.base import SEE, Reads
from studio.api.serializers import IdOf, NewId, Nothing, PersonRef
from studio.models import Person
from tiles import actions
from tiles.api.tiles import BodyRef
from tiles.filters import PieceFilter
from tiles.models import ClayBody, Firing, Piece

FIELDS = ["words", "count", "position"]


class PieceOut(Out):
    firing = serializers.UUIDField(source="firing_id")
    owner = PersonRef()
    body = BodyRef(allow_null=True)

    class Meta:
        model = Piece
        fields = ["id", "created_at", "firing", "owner", "body", *FIELDS, "override_reason", "taken_out_at"]


class PieceNew(NewId, In):
    """`owner` is whoever sends it, unless a technician names another person."""

    firing = IdOf(Firing)
    body = IdOf(ClayBody, required=False, allow_null=True)
    owner = IdOf(Person, required=False)
    override_reason = serializers.CharField(required=False, allow_blank=True, max_length=200)

    class Meta:
        model = Piece
        fields = ["id", "firing", "owner", "body", *FIELDS, "override_reason"]


class Pieces(Reads):
    """What members put into a firing beside the tiles. Nothing is deleted: what was taken out says when."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "take_out"], "piece.load")}
    model = Piece
    serializer_class = PieceOut
    filterset_class = PieceFilter

    def rows(self, person: Any) -> Any:
        return Piece.objects.select_related("owner", "body", "firing")

    @extend_schema(request=PieceNew)
    def create(self, request: Any) -> Response:
        made = actions.load_piece(by=request.user, **self.input(PieceNew))
        return self.answer(made, status.HTTP_201_CREATED)

    @extend_schema(request=Nothing)
    @action(detail=True, methods=["post"], url_path="take-out")
    def take_out(self, request: Any, pk: Any = None) -> Response:
        piece = self.get_object()
        self.input(Nothing)
        return self.answer(actions.take_piece_out(by=request.user, piece=piece))
