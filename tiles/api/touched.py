"""The tiles that a flag touches, over the API."""

from typing import Any, ClassVar

from django.db.models import Exists, OuterRef
from rest_framework import serializers
from rest_framework.generics import get_object_or_404
from rest_framework.response import Response

from inventory.api.base import Out
from inventory.models import Flag
from inventory.reach import spells
from studio.api.base import Reads
from tiles.models import Layer, Tile


class TouchedTile(Out):
    is_spoiled = serializers.BooleanField(help_text="A flag touches a layer, this one or another.")

    class Meta:
        model = Tile
        fields = ["id", "number", "is_spoiled"]


class TouchedTiles(Reads):
    """Also through what was poured into other buckets. Of a flag that was lifted: those that it had touched."""

    acts: ClassVar = {"list": "studio.see"}
    model = Tile
    serializer_class = TouchedTile

    def rows(self, person: Any) -> Any:
        flag = get_object_or_404(Flag.objects.visible_to(person).with_story(), pk=self.kwargs["pk"])
        layers = Layer.objects.touched_by(spells(flag)).filter(tile=OuterRef("pk"))
        return Tile.objects.visible_to(person).with_standing().filter(Exists(layers))

    def list(self, request: Any, pk: Any = None) -> Response:
        return super().list(request)
