"""What can be asked of firings, combinations, clay and runs; the wall's own questions are in filters_wall.py."""

from django.db.models import Exists, OuterRef
from django.utils.translation import gettext_lazy as _

from inventory.filters import ArchivedFilterSet
from inventory.models import Glaze
from studio.filtering import StrictFilterSet, YesNo
from studio.models import Person
from tiles.filter_fields import Chips, OneOf, OneWord
from tiles.models import ClayBody, Combination, CombinationPart, Firing, Kiln, NumberRun, Piece, Schedule


class FiringFilter(StrictFilterSet):
    state = Chips(choices=Firing.State.choices, label=_("State"))
    kind = OneWord(choices=Firing.Kind.choices, label=_("Kind"))
    kiln = OneOf(queryset=Kiln.objects.all(), label=_("Kiln"))

    class Meta:
        model = Firing
        fields: list[str] = []


class PieceFilter(StrictFilterSet):
    firing = OneOf(queryset=Firing.objects.all(), label=_("Firing"))
    owner = OneOf(queryset=Person.objects.all(), label=_("Whose"))
    is_in = YesNo(field_name="taken_out_at", lookup_expr="isnull", label=_("Still in it"))

    class Meta:
        model = Piece
        fields: list[str] = []


class CombinationFilter(StrictFilterSet):
    glaze = OneOf(queryset=Glaze.objects.all(), method="by_glaze", label=_("Glaze"))

    class Meta:
        model = Combination
        fields: list[str] = []

    def by_glaze(self, queryset, name, value):
        return queryset.filter(
            Exists(CombinationPart.objects.filter(combination=OuterRef("pk"), glaze=value))
        )


class BodyFilter(ArchivedFilterSet):
    class Meta:
        model = ClayBody
        fields: list[str] = []


class KilnFilter(ArchivedFilterSet):
    class Meta:
        model = Kiln
        fields: list[str] = []


class RunFilter(StrictFilterSet):
    """`mine`: the runs that the person reserved, or whose tiles are theirs."""

    mine = YesNo(method="by_mine", label=_("Mine"))

    class Meta:
        model = NumberRun
        fields: list[str] = []

    def by_mine(self, queryset, name, value):
        mine = queryset.model.objects.of(self.request.user)
        return queryset.filter(pk__in=mine) if value else queryset.exclude(pk__in=mine)


class ScheduleFilter(ArchivedFilterSet):
    kind = OneWord(choices=Firing.Kind.choices, label=_("Kind"))

    class Meta:
        model = Schedule
        fields: list[str] = []
