"""What can be asked of the shelf: one FilterSet each for page and API."""

import django_filters as df
from django.db.models import Exists, OuterRef, Q
from django.utils.translation import gettext_lazy as _

from inventory.models import Bucket, ChildFit, ClassList, Fill, Flag, Glaze, Place
from studio.filtering import StrictFilterSet

USE = [("use", _("use it")), ("ask", _("ask first")), ("do_not_use", _("do not use"))]
FOOD = [
    ("keep_from_food", _("keep away from food")),
    ("label_food_safe", _("label says “food safe”")),
    ("label_dinnerware_safe", _("label says “dinnerware safe”")),
    ("label_none", _("label says nothing about food")),
    ("not_read", _("label not read")),
    ("mixed_here", _("mixed here")),
]


class ArchivedFilterSet(StrictFilterSet):
    """Put-away records are left out unless asked for."""

    archived = df.BooleanFilter(method="by_archived", label=_("put away"))

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


class BucketFilter(ArchivedFilterSet):
    q = df.CharFilter(method="by_words", label=_("words"))
    code = df.CharFilter(lookup_expr="iexact", label=_("lid code"))
    place = df.ModelChoiceFilter(queryset=Place.objects.all(), label=_("place"))
    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), method="by_fill", label=_("glaze"))
    use = df.ChoiceFilter(choices=USE, method="by_fill", label=_("standing"))
    food = df.ChoiceFilter(choices=FOOD, method="by_fill", label=_("food"))

    class Meta:
        model = Bucket
        fields: list[str] = []

    def by_words(self, queryset, name, value):
        for word in value.split():
            queryset = queryset.filter(
                Q(code__icontains=word)
                | Q(remark__icontains=word)
                | Exists(Fill.objects.in_use().filter(bucket=OuterRef("pk"), glaze__name__icontains=word))
            )
        return queryset

    def by_fill(self, queryset, name, value):
        fills = Fill.objects.filter(bucket=OuterRef("pk"), ended_at__isnull=True).with_standing()
        return queryset.filter(Exists(fills.filter(**{name: value})))


class FillFilter(StrictFilterSet):
    bucket = df.ModelChoiceFilter(queryset=Bucket.objects.all(), label=_("bucket"))
    glaze = df.ModelChoiceFilter(queryset=Glaze.objects.all(), label=_("glaze"))
    in_use = df.BooleanFilter(field_name="ended_at", lookup_expr="isnull", label=_("in use"))
    use = df.ChoiceFilter(choices=USE, label=_("standing"))
    food = df.ChoiceFilter(choices=FOOD, label=_("food"))

    class Meta:
        model = Fill
        fields: list[str] = []


class FlagFilter(StrictFilterSet):
    fill = df.ModelChoiceFilter(queryset=Fill.objects.all(), label=_("fill"))
    kind = df.ChoiceFilter(choices=Flag.Kind.choices, label=_("what is wrong"))
    open = df.BooleanFilter(method="by_open", label=_("open"))

    class Meta:
        model = Flag
        fields: list[str] = []

    def by_open(self, queryset, name, value):
        return queryset.open() if value else queryset.exclude(outcome="")


class PlaceFilter(ArchivedFilterSet):
    kind = df.ChoiceFilter(choices=Place.Kind.choices, label=_("kind"))

    class Meta:
        model = Place
        fields: list[str] = []


class ClassListFilter(StrictFilterSet):
    open = df.BooleanFilter(method="by_open", label=_("open"))

    class Meta:
        model = ClassList
        fields: list[str] = []

    def by_open(self, queryset, name, value):
        return queryset.open() if value else queryset.not_open()


class RegisterFilter(StrictFilterSet):
    place = df.ModelChoiceFilter(queryset=Place.objects.all(), field_name="bucket__place", label=_("place"))
    use = df.ChoiceFilter(choices=USE, label=_("standing"))
    food = df.ChoiceFilter(choices=FOOD, label=_("food"))
    child_fit = df.ChoiceFilter(choices=ChildFit.choices, label=_("for children"))

    class Meta:
        model = Fill
        fields: list[str] = []
