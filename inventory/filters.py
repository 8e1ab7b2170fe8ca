"""What can be asked of the shelf: one FilterSet each for page and API."""

from collections.abc import Callable
from functools import cached_property
from typing import Any

import django_filters as df
from django.db.models import Exists, OuterRef, Q
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeFormField
from inventory.models import Bucket, ChildFit, ClassList, Fill, Flag, Glaze, GlazeSubstance, Label, Place
from inventory.walk import Walk
from studio.filtering import StrictFilterSet, YesNo

USE = [("use", _("use it")), ("ask", _("ask first")), ("do_not_use", _("do not use"))]
FOOD = [
    ("keep_from_food", _("keep away from food")),
    ("label_food_safe", _("label says “food safe”")),
    ("label_dinnerware_safe", _("label says “dinnerware safe”")),
    ("label_none", _("label says nothing about food")),
    ("not_read", _("label not read")),
    ("mixed_here", _("mixed here")),
]
LABEL = [*Label.choices, ("not_read", _("not read")), ("mixed", _("mixed here, so it has none"))]
WHOSE = [("studio", _("the studio’s")), ("mine", _("my own jars")), ("jars", _("all own jars"))]


class ArchivedFilterSet(StrictFilterSet):
    """Put-away records are left out unless asked for."""

    archived = YesNo(method="by_archived", label=_("put away"))

    def by_archived(self, queryset, name, value):
        return queryset.filter(archived_at__isnull=not value)

    def filter_queryset(self, queryset):
        if self.form.cleaned_data.get("archived") is None:
            queryset = queryset.filter(archived_at__isnull=True)
        return super().filter_queryset(queryset)


class GlazeFilter(ArchivedFilterSet):
    q = df.CharFilter(method="by_words", label=_("words"))
    kind = df.ChoiceFilter(choices=Glaze.Kind.choices, label=_("kind"))
    origin = df.ChoiceFilter(choices=Glaze.Origin.choices, label=_("bought or mixed here"))

    class Meta:
        model = Glaze
        fields: list[str] = []

    def by_words(self, queryset, name, value):
        for word in value.split():
            queryset = queryset.filter(
                Q(name__icontains=word)
                | Q(maker__icontains=word)
                | Q(product_code__icontains=word)
                | Q(remark__icontains=word)
            )
        return queryset


class ConeFilter(df.Filter):
    field_class = ConeFormField


def _label(value: str) -> Q:
    if value == "mixed":
        return Q(origin=Glaze.Origin.MIXED)
    # What is mixed here has no container, so that nobody could have read one.
    return Q(label="", origin=Glaze.Origin.BOUGHT) if value == "not_read" else Q(label=value)


# What an answer asks of a bucket that was read `for_the_shelf`.
MEANINGS: dict[str, Callable[[Any], Q]] = {
    "use": lambda use: Q(use=use),
    "food": lambda food: Q(food=food),
    "flagged": lambda yes: Q(is_flagged=yes),
    "low": lambda yes: Q(is_low=yes),
    "stale": lambda yes: Q(is_stale=yes),
    "cone": lambda cone: Q(cone_low__lte=cone, cone_high__gte=cone),
    "kind": lambda kind: Q(kind=kind),
    "label": _label,
    "glaze": lambda glaze: Q(glaze=glaze.pk),
    "archived": lambda yes: Q(archived_at__isnull=not yes),
}


class BucketFilter(ArchivedFilterSet):
    """Buckets, read `for_the_shelf`. A page shows beside each answer how many there are (inventory/facets.py)."""

    q = df.CharFilter(method="by_words", label=_("words"))
    code = df.CharFilter(lookup_expr="iexact", label=_("lid code"))
    use = df.ChoiceFilter(choices=USE, method="by_meaning", label=_("standing"))
    food = df.ChoiceFilter(choices=FOOD, method="by_meaning", label=_("food"))
    flagged = YesNo(method="by_meaning", label=_("flagged"))
    low = YesNo(method="by_meaning", label=_("a quarter full or less"))
    stale = YesNo(method="by_meaning", label=_("SG old or never read"))
    whose = df.ChoiceFilter(choices=WHOSE, method="by_meaning", label=_("whose"))
    place = df.ModelChoiceFilter(queryset=Place.objects.all(), method="by_meaning", label=_("place"))
    cone = ConeFilter(method="by_meaning", label=_("fired to cone"))
    kind = df.ChoiceFilter(choices=Glaze.Kind.choices, method="by_meaning", label=_("kind"))
    label = df.ChoiceFilter(choices=LABEL, method="by_meaning", label=_("its label says"))
    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), method="by_meaning", label=_("glaze"))

    class Meta:
        model = Bucket
        fields: list[str] = []

    @cached_property
    def walk(self) -> Walk:
        return Walk.now()

    def meaning(self, name: str, value: Any) -> Q:
        """What an answer asks of a bucket."""
        if name == "place":  # with all that is in it
            return Q(walk__range=self.walk.stretch(value.pk))
        if name == "whose":
            mine = Q(owner=self.request.user.pk)
            return {"studio": Q(owner=None), "mine": mine, "jars": Q(owner__isnull=False)}[value]
        return MEANINGS[name](value)

    def by_meaning(self, queryset, name, value):
        return queryset.filter(self.meaning(name, value))

    def by_words(self, queryset, name, value):
        for word in value.split():
            queryset = queryset.filter(
                Q(code__icontains=word)
                | Q(remark__icontains=word)
                | Exists(Fill.objects.in_use().filter(bucket=OuterRef("pk"), glaze__name__icontains=word))
            )
        return queryset


class FillFilter(StrictFilterSet):
    bucket = df.ModelChoiceFilter(queryset=Bucket.objects.all(), label=_("bucket"))
    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), label=_("glaze"))
    in_use = YesNo(field_name="ended_at", lookup_expr="isnull", label=_("in use"))
    use = df.ChoiceFilter(choices=USE, label=_("standing"))
    food = df.ChoiceFilter(choices=FOOD, label=_("food"))

    class Meta:
        model = Fill
        fields: list[str] = []


class FlagFilter(StrictFilterSet):
    fill = df.ModelChoiceFilter(queryset=Fill.objects.all(), label=_("fill"))
    kind = df.ChoiceFilter(choices=Flag.Kind.choices, label=_("what is wrong"))
    open = YesNo(method="by_open", label=_("open"))

    class Meta:
        model = Flag
        fields: list[str] = []

    def by_open(self, queryset, name, value):
        return queryset.open() if value else queryset.exclude(outcome="")


class SubstanceFilter(StrictFilterSet):
    """What was taken back is left out unless asked for."""

    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), label=_("glaze"))
    substance = df.ChoiceFilter(choices=GlazeSubstance.Substance.choices, label=_("what"))
    taken_back = YesNo(method="by_taken_back", label=_("taken back"))

    class Meta:
        model = GlazeSubstance
        fields: list[str] = []

    def by_taken_back(self, queryset, name, value):
        return queryset.filter(taken_back_at__isnull=not value)

    def filter_queryset(self, queryset):
        if self.form.cleaned_data.get("taken_back") is None:
            queryset = queryset.filter(taken_back_at__isnull=True)
        return super().filter_queryset(queryset)


class PlaceFilter(ArchivedFilterSet):
    kind = df.ChoiceFilter(choices=Place.Kind.choices, label=_("kind"))

    class Meta:
        model = Place
        fields: list[str] = []


class ClassListFilter(StrictFilterSet):
    open = YesNo(method="by_open", label=_("open"))

    class Meta:
        model = ClassList
        fields: list[str] = []

    def by_open(self, queryset, name, value):
        return queryset.open() if value else queryset.not_open()


class RegisterFilter(StrictFilterSet):
    place = df.ModelChoiceFilter(queryset=Place.objects.all(), method="by_place", label=_("place"))
    use = df.ChoiceFilter(choices=USE, label=_("standing"))
    food = df.ChoiceFilter(choices=FOOD, label=_("food"))
    child_fit = df.ChoiceFilter(choices=ChildFit.choices, label=_("for children"))

    class Meta:
        model = Fill
        fields: list[str] = []

    def by_place(self, queryset, name, value):
        # With all that is in it, as on the shelf.
        return queryset.filter(walk__range=Walk.now().stretch(value.pk))
