"""Several tiles named at once: by their numbers, a run, or picking; and what is done with all of them."""

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.db.models.functions import Upper
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from inventory.models import Place
from inventory.walk import Walk
from tiles.actions.making import FOUND
from tiles.actions.tiles import BARE
from tiles.calc.ranges import MOST, numbers_in
from tiles.forms.log import is_id
from tiles.models import NumberRun, Tile

UNREADABLE = {
    "backwards": gettext_lazy("%(typed)s runs backwards. Write the smaller number first."),
    "two_prefixes": gettext_lazy("%(typed)s begins and ends with different letters. Write two ranges."),
    "too_many": gettext_lazy("%(typed)s names too many tiles. Name at most %(most)s."),
}


def place_choices(places: QuerySet[Place], empty: Any) -> list[tuple[str, Any]]:
    """Every place with the way to it, in the order of the walk."""
    walk, wanted = Walk.now(), {place.pk for place in places}
    return [("", empty)] + [
        (str(row.pk), walk.words(row.pk)) for row, _depth in walk.steps if row.pk in wanted
    ]


class TilePick(forms.ModelMultipleChoiceField):
    def label_from_instance(self, obj: Any) -> str:
        return obj.number


class NamingForm(forms.Form):
    """Which tiles: `tiles` are those that may be named, `offered` those that are shown to be picked."""

    numbers = forms.CharField(
        label=gettext_lazy("Numbers"),
        required=False,
        max_length=400,
        help_text=gettext_lazy("Such as 312-321, 330."),
        widget=forms.TextInput(
            attrs={"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
        ),
    )
    picked = TilePick(
        Tile.objects.none(),
        label=gettext_lazy("Or pick them"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    naming = ("numbers", "picked")

    def __init__(self, *args: Any, tiles: Any, offered: Any = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.tiles = tiles
        picked: Any = self.fields["picked"]
        picked.queryset = tiles
        # What was picked on another page stays picked here.
        sent = self.data.getlist("picked") if self.is_bound else []
        here = {tile.pk: tile for tile in offered or []}
        here |= {tile.pk: tile for tile in tiles.filter(pk__in=filter(is_id, sent))}
        picked.choices = [(tile.pk, tile.number) for tile in here.values()]
        if not here:
            del self.fields["picked"]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        chosen = [*self._by_number(data.get("numbers") or ""), *data.get("picked", []), *self.more(data)]
        data["tiles"] = list({tile.pk: tile for tile in chosen}.values())
        if not data["tiles"] and not self.errors:
            self.add_error("numbers", _("Say which tiles."))
        return data

    def more(self, data: dict[str, Any]) -> list[Tile]:
        """Tiles that another question of the form names."""
        return []

    def _by_number(self, text: str) -> list[Tile]:
        try:
            wanted = numbers_in(text)
        except ValueError as error:
            code, typed = error.args
            self.add_error("numbers", UNREADABLE[code] % {"typed": typed, "most": MOST})
            return []
        rows = self.tiles.annotate(upper=Upper("number")).filter(upper__in=[one.upper() for one in wanted])
        found = {tile.number.upper(): tile for tile in rows}
        if missing := [number for number in wanted if number.upper() not in found]:
            said = _("There is no tile %(numbers)s. Look at the backs again.") % {
                "numbers": ", ".join(missing)
            }
            self.add_error("numbers", said)
        return [found[number.upper()] for number in wanted if number.upper() in found]


class RunChoice(forms.ModelChoiceField):
    def label_from_instance(self, obj: Any) -> str:
        return str(obj)


class SetForm(NamingForm):
    """The tiles that are glazed all alike."""

    run = RunChoice(
        NumberRun.objects.none(), label=gettext_lazy("A whole run"), required=False, widget=forms.RadioSelect
    )
    field_order = ("run", "numbers", "picked")

    def __init__(self, *args: Any, runs: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field: Any = self.fields["run"]
        field.queryset = runs
        field.empty_label = None
        if not runs:
            del self.fields["run"]

    def more(self, data: dict[str, Any]) -> list[Tile]:
        run = data.get("run")
        if run is None:
            return []
        return list(self.tiles.filter(run=run, state__in=BARE))


class SeveralForm(NamingForm):
    """One act for several tiles."""

    do = forms.ChoiceField(
        label=gettext_lazy("What"),
        choices=[
            ("set", gettext_lazy("glaze them all alike")),
            ("hang", gettext_lazy("hang them")),
            ("off", gettext_lazy("take them down")),
            (Tile.State.BISQUED, gettext_lazy("bisqued")),
            (Tile.State.LOST, gettext_lazy("lost")),
            (Tile.State.BROKEN, gettext_lazy("broken")),
            (FOUND, gettext_lazy("found again")),
        ],
        widget=forms.RadioSelect,
    )
    place = forms.ModelChoiceField(
        Place.objects.filter(archived_at=None), label=gettext_lazy("Where they hang"), required=False
    )
    reason = forms.CharField(label=gettext_lazy("Why"), max_length=200, required=False)
    acts = ("do", "place", "reason")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        place: Any = self.fields["place"]
        place.choices = place_choices(place.queryset, _("choose"))

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if data.get("do") == "hang" and not data.get("place") and "place" not in self.errors:
            self.add_error("place", _("Say where they hang."))
        return data

    def part(self, names: tuple[str, ...]) -> list[forms.BoundField]:
        return [self[name] for name in names if name in self.fields]

    @property
    def first(self) -> list[forms.BoundField]:
        return self.part(self.naming)

    @property
    def then(self) -> list[forms.BoundField]:
        return self.part(self.acts)


class HangForm(NamingForm):
    """Tiles for a board: on the board itself or one of its hooks."""

    onto = forms.ModelChoiceField(
        Place.objects.none(), label=gettext_lazy("Onto"), empty_label=None, widget=forms.RadioSelect
    )
    field_order = ("numbers", "picked", "onto")

    def __init__(self, *args: Any, board: Place, parts: list[Place], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        onto: Any = self.fields["onto"]
        onto.queryset = Place.objects.filter(pk__in=[board.pk, *(part.pk for part in parts)])
        onto.choices = [(str(board.pk), board.name)] + [(str(part.pk), part.name) for part in parts]
        onto.initial = board.pk
