"""Which tile is it: a number that is written on it, or one to write on it."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models import Place
from inventory.sentences import cone_words
from studio.models import Person
from studio.roles import may
from tiles.actions.numbers import MOST_AT_ONCE
from tiles.forms.fields import day
from tiles.models import ClayBody, Firing, Tile

FORM_HELP = _("Such as flat, L-shaped, a piece of a pot.")
BISQUED = "bisqued"
FIRINGS_SHOWN = 8


def number_field(**kwargs: Any) -> forms.CharField:
    """As scratched into the back: letters are possible, so the phone brings its whole keyboard."""
    attrs = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false", "size": 12}
    return forms.CharField(max_length=24, widget=forms.TextInput(attrs=attrs), **kwargs)


def tile_written(person: Person, written: str) -> Tile | None:
    """The tile with what is written on it that the person may see; None for nothing written."""
    if not (number := written.strip()):
        return None
    found = Tile.objects.visible_to(person).filter(number__iexact=number).first()
    if found is None:
        raise forms.ValidationError(_("There is no tile with this number. Look at its back again."))
    return found


class NumberForm(forms.Form):
    number = number_field(label=_("What is written on it?"))


class BodyForm(forms.Form):
    """The clay body, with the person's last one filled in."""

    body = forms.ModelChoiceField(
        ClayBody.objects.filter(archived_at=None),
        label=_("Clay body"),
        required=False,
        empty_label=_("not known"),
    )

    def __init__(self, *args: Any, person: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        last = Tile.objects.filter(maker=person).exclude(body=None).values_list("body", flat=True)
        self.fields["body"].initial = last.order_by("-created_at").first()


class BareForm(BodyForm):
    """A tile without a number."""


class NewTileForm(BodyForm):
    """A tile that already carries a number, perhaps from before this service."""

    number = number_field(label=_("Number"))
    form = forms.CharField(
        label=_("Form"),
        max_length=40,
        required=False,
        help_text=FORM_HELP,
    )
    made_on = forms.DateField(label=_("Made on"), required=False, widget=day())
    place = forms.ModelChoiceField(
        Place.objects.filter(archived_at=None),
        label=_("Where it hangs"),
        required=False,
        empty_label=_("not noted"),
    )
    visibility = forms.ChoiceField(
        label=_("Seen by"),
        choices=Tile.Visibility.choices,
        initial=Tile.Visibility.STUDIO,
        widget=forms.RadioSelect,
    )
    field_order = ("number", "body", "form", "made_on", "place", "visibility")


class MakerChoice(forms.ModelChoiceField):
    def label_from_instance(self, obj: Any) -> str:
        return obj.name


class RunForm(BodyForm):
    """Tiles that were just made: how many, of what, by whom, and their bisque firing."""

    count = forms.IntegerField(
        label=_("How many tiles"), min_value=1, max_value=MOST_AT_ONCE, initial=10, widget=forms.NumberInput
    )
    form = forms.CharField(label=_("Form"), max_length=40, required=False, help_text=FORM_HELP)
    made_on = forms.DateField(label=_("Made on"), initial=timezone.localdate, widget=day(), required=False)
    bisque = forms.ChoiceField(label=_("Bisque firing"), required=False)
    maker = MakerChoice(
        Person.objects.filter(is_active=True).order_by("name"), label=_("Made by"), required=False
    )
    prefix = forms.CharField(
        label=_("Letters before the number"),
        max_length=8,
        required=False,
        help_text=_("Such as S for a summer course; leave it empty for the studio's own row."),
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "autocomplete": "off", "size": 8}),
    )
    field_order = ("count", "body", "form", "made_on", "bisque", "maker", "prefix")

    def __init__(self, *args: Any, person: Any, **kwargs: Any) -> None:
        super().__init__(*args, person=person, **kwargs)
        maker: Any = self.fields["maker"]
        maker.empty_label = person.name
        if not may(person, "tile.change_any"):
            del self.fields["maker"]
        self.firings = {str(firing.pk): firing for firing in bisque_firings()}
        self.fields["bisque"].choices = [
            ("", _("not fired yet")),
            (BISQUED, _("bisqued already, firing not noted")),
            *((pk, self._words(firing)) for pk, firing in self.firings.items()),
        ]

    @staticmethod
    def _words(firing: Firing) -> str:
        said = _("they go into %(firing)s") if firing.takes_tiles else _("they came out of %(firing)s")
        return f"{said % {'firing': firing}}, {firing.kiln}, {cone_words(firing.target_cone)}"

    def values(self) -> dict[str, Any]:
        """The fields of `make_run`."""
        said = {**self.cleaned_data}
        bisque = said.pop("bisque")
        return {**said, "firing": self.firings.get(bisque), "bisqued": bisque == BISQUED}


def bisque_firings() -> list[Firing]:
    """Those that still take tiles, and the last that were unloaded."""
    rows = Firing.objects.filter(kind=Firing.Kind.BISQUE).select_related("kiln").order_by("-number")
    waiting = rows.filter(state__in=Firing.TAKES_TILES)
    return [*waiting, *rows.filter(state=Firing.State.UNLOADED)[:FIRINGS_SHOWN]]
