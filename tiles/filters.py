"""What can be asked of the wall and the firings: one FilterSet each for page, fragment, CSV and API."""

import django_filters as df
from django import forms
from django.db.models import Exists, OuterRef, Q
from django.utils.translation import gettext_lazy as _
from django_filters.fields import ModelChoiceField

from inventory.fields import ConeFormField
from inventory.filters import ArchivedFilterSet
from inventory.models import Glaze, Opacity, Surface
from inventory.walk import Walk
from studio.filtering import StrictFilterSet, YesNo
from studio.models import Person
from tiles.forms.wall import WallForm, choices_like, cones_and_words
from tiles.models import (
    ClayBody,
    Combination,
    CombinationPart,
    Firing,
    Kiln,
    Layer,
    NumberRun,
    Outcome,
    OutcomeFault,
    Piece,
    Tile,
)

NONE_SUCH = {"invalid_choice": _("Nothing here goes by that. Choose one from the list, or leave it open.")}
MOST_WORDS = 120  # letters; a search is a few words, and a database follows only so many conditions


class ConeFilter(df.Filter):
    field_class = ConeFormField


class OneOfField(ModelChoiceField):
    """What is no record of the list is refused in the same words, whatever is wrong with it."""

    def to_python(self, value):
        try:
            return super().to_python(value)
        except forms.ValidationError as error:
            raise forms.ValidationError(
                self.error_messages["invalid_choice"], code="invalid_choice"
            ) from error


class OneOf(df.ModelChoiceFilter):
    """One record of a list."""

    field_class = OneOfField

    def __init__(self, **kwargs) -> None:
        super().__init__(error_messages=NONE_SUCH, empty_label=_("any"), **kwargs)


class Chips(df.MultipleChoiceFilter):
    """Any of a few choices, as chips."""

    def __init__(self, **kwargs) -> None:
        super().__init__(widget=forms.CheckboxSelectMultiple, **kwargs)


class OneWord(df.ChoiceFilter):
    """One of a few choices."""

    def __init__(self, **kwargs) -> None:
        super().__init__(empty_label=_("any"), **kwargs)


class WallFilter(StrictFilterSet):
    """Tiles. The queryset comes `for_the_wall()`, so that standing can be asked for."""

    q = df.CharFilter(
        method="by_words",
        label=_("Words"),
        max_length=MOST_WORDS,
        widget=forms.TextInput(attrs={"type": "search", "enterkeyhint": "search"}),
    )
    surface = Chips(choices=Surface.choices, method="by_surface", label=_("Surface"))
    cone_min = ConeFilter(field_name="cone", lookup_expr="gte", label=_("From cone"))
    cone_max = ConeFilter(field_name="cone", lookup_expr="lte", label=_("To cone"))
    glaze = OneOf(queryset=Glaze.objects.all(), method="by_glaze", label=_("Glaze, anywhere"))
    glaze_top = OneOf(queryset=Glaze.objects.all(), method="by_glaze_top", label=_("Glaze, on top"))
    glaze_under = OneOf(queryset=Glaze.objects.all(), method="by_glaze_under", label=_("Glaze, underneath"))
    without_fault = Chips(
        choices=OutcomeFault.Kind.choices, method="by_absent_fault", label=_("Looked at and free of")
    )
    label = OneWord(
        choices=[
            ("labelled", _("every layer's label says food or dinnerware safe")),
            ("not_for_food", _("a layer is kept away from food")),
            ("not_known", _("a layer's label is not known")),
        ],
        method="by_label",
        label=_("What the labels say"),
    )
    standing = OneWord(
        choices=[("clear", _("no flag touches it")), ("touched", _("touched by a flagged bucket"))],
        method="by_standing",
        label=_("Flags on its buckets"),
    )
    body = OneOf(queryset=ClayBody.objects.all(), label=_("Clay body"))
    firing = df.ModelChoiceFilter(
        queryset=Firing.objects.all(),
        to_field_name="number",
        field_name="tile_firings__firing",
        label=_("Number of the firing"),
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={"invalid_choice": _("There is no firing of this number.")},
    )
    maker = OneOf(queryset=Person.objects.all(), label=_("Maker"))
    state = Chips(choices=Tile.State.choices, label=_("State"))
    waiting = YesNo(method="by_waiting", label=_("Waiting for a result"))

    class Meta:
        model = Tile
        fields: list[str] = []
        form = WallForm

    def by_words(self, queryset, name, value):
        cones, words = cones_and_words(value)
        walk = Walk.now() if words else Walk([])
        for cone in cones:
            queryset = queryset.filter(cone=cone)
        for word in words:
            looks = (
                Q(colour__icontains=word)
                | Q(remark__icontains=word)
                | Q(surface__in=choices_like(word, Surface.choices))
                | Q(opacity__in=choices_like(word, Opacity.choices))
                | Q(faults__kind__in=choices_like(word, OutcomeFault.Kind.choices))
            )
            queryset = queryset.filter(
                Q(number__icontains=word)
                | Q(remark__icontains=word)
                | Q(body__name__icontains=word)
                | Q(place__in=walk.said(word))
                | Exists(Layer.objects.filter(tile=OuterRef("pk"), glaze__name__icontains=word))
                | Exists(Outcome.objects.filter(looks, tile=OuterRef("pk")))
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
            .filter(Q(fill=None) | Q(fill__label__in=["", "none"]) | Q(glaze__origin=Glaze.Origin.MIXED))
        )
        return queryset.filter(Exists(unknown))

    def by_waiting(self, queryset, name, value):
        return queryset.with_waiting().filter(is_waiting=value)

    def by_standing(self, queryset, name, value):
        return queryset.filter(is_spoiled=value == "touched")


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
