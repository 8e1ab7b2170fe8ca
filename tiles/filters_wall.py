"""What can be asked of the wall: one FilterSet for page, fragment, counts, CSV and API."""

from typing import Any

import django_filters as df
from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from inventory.models import Glaze, Opacity, Place, Surface
from inventory.walk import Walk
from studio.filtering import StrictFilterSet, YesNo
from studio.models import Person
from tiles.filter_fields import Chips, ConeFilter, InPlace, OneOf, OneWord
from tiles.forms.wall import WallForm, choices_like, understood
from tiles.meanings import MEANINGS, TOLD
from tiles.models import ClayBody, Combination, Firing, Kiln, Layer, Outcome, OutcomeFault, Tile

MOST_WORDS = 120  # letters; a search is a few words, and a database follows only so many conditions
FAULTS = OutcomeFault.Kind.choices
MOVEMENT = [
    ("none", _("none (under 1 mm)")),
    ("little", _("a little (1 to 5 mm)")),
    ("lot", _("a lot (over 5 mm)")),
]
LAYERS = [(1, _("1")), (2, _("2")), (3, _("3")), (4, _("4 or more"))]
HANG = [("cone", _("cone")), ("surface", _("surface")), ("glaze", _("glaze")), ("date", _("date"))]
USE = [
    ("use", _("use every one")),
    ("ask", _("ask first of one")),
    ("do_not_use", _("do not use one")),
]


DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


def _cone_input(suggestions: str) -> forms.TextInput:
    """A field with the cones of the wall as suggestions, which arrive with the counts."""
    return forms.TextInput(
        attrs={"size": 6, "autocomplete": "off", "autocapitalize": "off", "list": suggestions}
    )


def _seen_combinations(request: Any) -> Any:
    """What layering a private tile tried is private too."""
    person = getattr(request, "user", None)
    return Combination.objects.visible_to(person).prefetch_related("parts__glaze")


class WallFilter(StrictFilterSet):
    """Tiles, read `for_the_wall()`. `hang` narrows nothing: it is the order, see queries_hanging.py."""

    q = df.CharFilter(
        method="by_meaning",
        label=_("Words"),
        max_length=MOST_WORDS,
        widget=forms.TextInput(attrs={"type": "search", "enterkeyhint": "search"}),
    )
    surface = Chips(choices=Surface.choices, method="by_meaning", label=_("Surface"))
    cone_min = ConeFilter(method="by_meaning", label=_("From cone"), widget=_cone_input("n-cone_min"))
    cone_max = ConeFilter(method="by_meaning", label=_("To cone"), widget=_cone_input("n-cone_max"))
    opacity = Chips(choices=Opacity.choices, method="by_meaning", label=_("Opacity"))
    movement = Chips(choices=MOVEMENT, method="by_meaning", label=_("Moved down"))
    verdict = Chips(choices=Outcome.Verdict.choices, method="by_meaning", label=_("Verdict"))
    with_fault = Chips(choices=FAULTS, method="by_meaning", label=_("With one of these"))
    without_fault = Chips(choices=FAULTS, method="by_meaning", label=_("Looked at and free of"))
    glaze = OneOf(queryset=Glaze.objects.all(), method="by_meaning", label=_("Glaze, anywhere"))
    glaze_top = OneOf(queryset=Glaze.objects.all(), method="by_meaning", label=_("Glaze, on top"))
    glaze_under = OneOf(queryset=Glaze.objects.all(), method="by_meaning", label=_("Glaze, underneath"))
    combination = OneOf(queryset=_seen_combinations, method="by_meaning", label=_("Combination"))
    layers = df.TypedMultipleChoiceFilter(
        choices=LAYERS,
        coerce=int,
        method="by_meaning",
        label=_("Layers, without wax"),
        widget=forms.CheckboxSelectMultiple,
    )
    body = OneOf(queryset=ClayBody.objects.all(), method="by_meaning", label=_("Clay body"))
    atmosphere = OneWord(choices=Firing.Atmosphere.choices, method="by_meaning", label=_("Atmosphere"))
    kiln = OneOf(queryset=Kiln.objects.all(), method="by_meaning", label=_("Kiln"))
    firing = df.ModelChoiceFilter(
        queryset=Firing.objects.all(),
        to_field_name="number",
        method="by_meaning",
        label=_("Number of the firing"),
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages={"invalid_choice": _("There is no firing of this number.")},
    )
    label = OneWord(
        choices=[
            ("labelled", _("every layer's label says “food safe” or “dinnerware safe”")),
            ("not_for_food", _("a layer is kept away from food")),
            ("not_known", _("a layer's label is not known")),
        ],
        method="by_meaning",
        label=_("What the labels say"),
    )
    standing = OneWord(
        choices=[("clear", _("no flag touches it")), ("touched", _("touched by a flagged bucket"))],
        method="by_meaning",
        label=_("Flags on its buckets"),
    )
    use_then = OneWord(choices=USE, method="by_meaning", label=_("Its buckets said then"))
    use_now = OneWord(
        choices=[*USE, ("gone", _("one is empty or not known"))],
        method="by_meaning",
        label=_("Its buckets say now"),
    )
    place = InPlace(queryset=Place.objects.all(), method="by_meaning", label=_("Hangs in"))
    maker = OneOf(queryset=Person.objects.all(), method="by_meaning", label=_("Maker"))
    date_from = df.DateFilter(method="by_meaning", label=_("Made from"), widget=DAY)
    date_to = df.DateFilter(method="by_meaning", label=_("Made until"), widget=DAY)
    state = Chips(choices=Tile.State.choices, method="by_meaning", label=_("State"))
    waiting = YesNo(method="by_meaning", label=_("Waiting for a result"))
    marked = YesNo(method="by_meaning", label=_("Set aside for a flag"))
    hang = df.ChoiceFilter(choices=HANG, method="by_hang", empty_label=None, label=_("Hung by"))

    class Meta:
        model = Tile
        fields: list[str] = []
        form = WallForm

    def meaning(self, name: str, value: Any) -> Q:
        """What an answer asks of a tile."""
        if name == "q":
            return in_words(value)
        if name == "place":  # with all that is in it
            walk = Walk.now()
            first, last = walk.stretch(value.pk)
            return TOLD["place"].fits(row.pk for row, _depth in walk.steps[first : last + 1])
        if name in MEANINGS:
            return MEANINGS[name](value)
        answers = value if isinstance(value, list) else [value]
        return TOLD[name].fits(getattr(answer, "pk", answer) for answer in answers)

    def by_meaning(self, queryset, name, value):
        return queryset.filter(self.meaning(name, value))

    def by_hang(self, queryset, name, value):
        return queryset.hung_by(value)


def in_words(text: str) -> Q:
    """Any of the cones and looks that it names, and every other word somewhere in the record."""
    asked, found = understood(text), Q()
    cones = [piece.cones for piece in asked if piece.cones]
    if cones:
        named = Q()
        for low, high in cones:
            named |= Q(cone__gte=low, cone__lte=high)
        found &= named
    for kind in ("surface", "opacity"):
        if values := [piece.value for piece in asked if piece.kind == kind]:
            found &= TOLD[kind].fits(values)
    said = [piece for piece in asked if piece.kind in ("words", "quoted")]
    walk = Walk.now() if said else Walk([])
    for piece in said:
        found &= _somewhere(piece.value, walk, as_it_stands=piece.kind == "quoted")
    return found


def _somewhere(words: str, walk: Walk, as_it_stands: bool) -> Q:
    looks = (
        Q(colour__icontains=words)
        | Q(remark__icontains=words)
        | Q(faults__kind__in=choices_like(words, FAULTS, as_it_stands))
    )
    return (
        Q(number__icontains=words)
        | Q(remark__icontains=words)
        | Q(body__name__icontains=words)
        | Q(place__in=walk.said(words))
        | Q(pk__in=Layer.objects.filter(glaze__name__icontains=words).order_by().values("tile"))
        | Q(pk__in=Outcome.objects.filter(looks).order_by().values("tile"))
    )
