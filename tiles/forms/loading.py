"""Filling a kiln: tiles by picking or by number, and the members' own pieces."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from studio.models import Person
from studio.roles import may
from tiles.forms.firing import position_choices
from tiles.forms.several import NamingForm
from tiles.models import ClayBody, Firing


def reason_field() -> forms.CharField:
    return forms.CharField(
        label=_("Why it may go in all the same"),
        max_length=200,
        required=False,
        help_text=_("Kept with it and in the history."),
    )


def position_field() -> forms.ChoiceField:
    return forms.ChoiceField(label=_("Where in the kiln"), required=False, widget=forms.RadioSelect)


class LoadForm(NamingForm):
    """Tiles into one position of a kiln."""

    position = position_field()
    override_reason = reason_field()
    field_order = ("position", "picked", "numbers", "override_reason")

    def __init__(self, *args: Any, firing: Firing, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        position: Any = self.fields["position"]
        position.choices = position_choices(firing)
        if not may(person, "firing.change"):
            del self.fields["override_reason"]


class PieceForm(forms.Form):
    """A member's own ware. A technician may load it for somebody else."""

    words = forms.CharField(label=_("What"), max_length=120, help_text=_("Such as: mugs, or a lidded jar."))
    count = forms.IntegerField(
        label=_("How many"),
        min_value=1,
        max_value=500,
        initial=1,
        widget=forms.NumberInput({"inputmode": "numeric"}),
    )
    body = forms.ModelChoiceField(
        ClayBody.objects.filter(archived_at=None),
        label=_("Clay body"),
        required=False,
        empty_label=_("not known"),
    )
    position = position_field()
    owner = forms.ModelChoiceField(
        Person.objects.filter(is_active=True), label=_("Whose"), required=False, empty_label=_("mine")
    )
    override_reason = reason_field()

    def __init__(self, *args: Any, firing: Firing, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, prefix="piece", **kwargs)
        position: Any = self.fields["position"]
        position.choices = position_choices(firing)
        if not may(person, "firing.change"):
            del self.fields["owner"], self.fields["override_reason"]
