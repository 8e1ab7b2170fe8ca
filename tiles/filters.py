"""What can be asked of the wall and the firings: one FilterSet each for page, fragment, CSV and API."""

import django_filters as df
from django.db.models import Exists, OuterRef, Q
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeFormField
from inventory.filters import ArchivedFilterSet
from inventory.models import Glaze, Surface
from studio.filtering import StrictFilterSet
from studio.models import Person
from tiles.models import (
    ClayBody,
    Combination,
    CombinationPart,
    Firing,
    Kiln,
    Layer,
    Outcome,
    OutcomeFault,
    Tile,
)


class ConeFilter(df.Filter):
    field_class = ConeFormField


class WallFilter(StrictFilterSet):
    """Tiles. The queryset comes `for_the_wall()`, so that standing can be asked for."""

    q = df.CharFilter(method="by_words", label=_("words"))
    cone_min = ConeFilter(field_name="cone", lookup_expr="gte", label=_("from cone"))
    cone_max = ConeFilter(field_name="cone", lookup_expr="lte", label=_("to cone"))
    surface = df.MultipleChoiceFilter(choices=Surface.choices, method="by_surface", label=_("surface"))
    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), method="by_glaze", label=_("glaze, anywhere"))
    glaze_top = df.ModelChoiceFilter(
        queryset=Glaze.objects.all(), method="by_glaze_top", label=_("glaze, on top")
    )
    glaze_under = df.ModelChoiceFilter(
        queryset=Glaze.objects.all(), method="by_glaze_under", label=_("glaze, underneath")
    )
    without_fault = df.MultipleChoiceFilter(
        choices=OutcomeFault.Kind.choices, method="by_absent_fault", label=_("looked at, without")
    )
    label = df.ChoiceFilter(
        choices=[
            ("labelled", _("every layer's label says food or dinnerware safe")),
            ("not_for_food", _("a layer is kept away from food")),
            ("not_known", _("a layer's label is not known")),
        ],
        method="by_label",
        label=_("labels of the layers"),
    )
    standing = df.ChoiceFilter(
        choices=[("clear", _("no flag touches it")), ("touched", _("touched by a flagged bucket"))],
        method="by_standing",
        label=_("buckets then and since"),
    )
    body = df.ModelChoiceFilter(queryset=ClayBody.objects.all(), label=_("clay body"))
    firing = df.ModelChoiceFilter(
        queryset=Firing.objects.all(),
        to_field_name="number",
        field_name="tile_firings__firing",
        label=_("firing"),
    )
    maker = df.ModelChoiceFilter(queryset=Person.objects.all(), label=_("maker"))
    state = df.MultipleChoiceFilter(choices=Tile.State.choices, label=_("state"))

    class Meta:
        model = Tile
        fields: list[str] = []

    @property
    def problems(self) -> dict[str, list[str]]:
        found = super().problems
        low, high = (
            self.form.cleaned_data.get(n) if self.is_bound else None for n in ("cone_min", "cone_max")
        )
        if not found and low and high and low > high:
            found["cone_max"] = [
                _now(
                    "From cone %(low)s to cone %(high)s is the wrong way round: %(high)s is cooler. Swap them."
                )
                % {"low": low.label, "high": high.label}
            ]
        return found

    def by_words(self, queryset, name, value):
        for word in value.split():
            queryset = queryset.filter(
                Q(number__icontains=word)
                | Q(remark__icontains=word)
                | Q(body__name__icontains=word)
                | Q(place__name__icontains=word)
                | Exists(Layer.objects.filter(tile=OuterRef("pk"), glaze__name__icontains=word))
                | Exists(
                    Outcome.objects.filter(tile=OuterRef("pk")).filter(
                        Q(colour__icontains=word) | Q(remark__icontains=word)
                    )
                )
            )
        return queryset

    def by_surface(self, queryset, name, value):
        if not value:
            return queryset
        return queryset.filter(Exists(Outcome.objects.filter(tile=OuterRef("pk"), surface__in=value)))

    def by_glaze(self, queryset, name, value):
        return queryset.with_glaze(value)

    def by_glaze_top(self, queryset, name, value):
        return queryset.with_glaze_on_top(value)

    def by_glaze_under(self, queryset, name, value):
        return queryset.with_glaze_underneath(value)

    def by_absent_fault(self, queryset, name, value):
        """Absence is known only of a tile that was looked at."""
        if not value:
            return queryset
        looks = Outcome.objects.filter(tile=OuterRef("pk"))
        return queryset.filter(Exists(looks)).exclude(Exists(looks.filter(faults__kind__in=value)))

    def by_label(self, queryset, name, value):
        if value == "labelled":
            return queryset.filter(is_labelled=True, is_kept_from_food=False)
        if value == "not_for_food":
            return queryset.filter(is_kept_from_food=True)
        unknown = (
            Layer.objects.filter(tile=OuterRef("pk"))
            .glazing()
            .filter(Q(fill=None) | Q(fill__label__in=["", "none"]))
        )
        return queryset.filter(Exists(unknown))

    def by_standing(self, queryset, name, value):
        return queryset.filter(is_spoiled=value == "touched")


class FiringFilter(StrictFilterSet):
    state = df.MultipleChoiceFilter(choices=Firing.State.choices, label=_("state"))
    kind = df.ChoiceFilter(choices=Firing.Kind.choices, label=_("kind"))
    kiln = df.ModelChoiceFilter(queryset=Kiln.objects.all(), label=_("kiln"))

    class Meta:
        model = Firing
        fields: list[str] = []


class CombinationFilter(StrictFilterSet):
    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), method="by_glaze", label=_("glaze"))

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
