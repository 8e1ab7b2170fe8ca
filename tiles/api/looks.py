"""The tiles that are due to be looked at again."""

from typing import Any, ClassVar

from django.utils import timezone
from rest_framework import serializers

from inventory.api.base import Out
from studio.api.base import Reads
from studio.api.serializers import PersonRef
from tiles.models import Tile
from tiles.queries_looks import MOST_DUE_FIRST


class LookDueOut(Out):
    """`weeks` after `out_on`, the day on which the tile's last glaze firing was unloaded."""

    maker = PersonRef()
    out_on = serializers.DateField()
    due_on = serializers.DateField()
    weeks = serializers.IntegerField()
    last_look_on = serializers.DateField(allow_null=True)

    class Meta:
        model = Tile
        fields = ["id", "number", "maker", "out_on", "due_on", "weeks", "last_look_on"]


class LooksDue(Reads):
    """Look again for crazing after one, four and twelve weeks: the person's own first, the longest due first."""

    acts: ClassVar = {"list": "studio.see"}
    model = Tile
    serializer_class = LookDueOut
    cursor_ordering = MOST_DUE_FIRST

    def rows(self, person: Any) -> Any:
        seen: Any = Tile.objects.visible_to(person)
        return seen.look_is_due(person, timezone.localdate()).select_related("maker")
