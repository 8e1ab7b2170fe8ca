"""Taking a firing on, or one step back."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from studio.pages import VersionedForm
from tiles.forms.fields import Moment
from tiles.models import Firing


class MoveForm(VersionedForm):
    """The next step of a firing."""

    state = forms.ChoiceField(label=_("State"), choices=Firing.State.choices, widget=forms.HiddenInput)
    at = Moment(label=_("When, if not now"), required=False)
    reason = forms.CharField(label=_("Why"), max_length=200, required=False)


class BackForm(VersionedForm):
    """One step back."""

    reason = forms.CharField(
        label=_("Why"),
        max_length=200,
        help_text=_("Such as: tapped by mistake. Kept in the history."),
    )


class StayForm(VersionedForm):
    """Why something stays in a load that it is stopped in. `row` is the tile's or the piece's id."""

    what = forms.ChoiceField(choices=[("tile", ""), ("piece", "")])
    row = forms.UUIDField()
    override_reason = forms.CharField(label=_("Why it may stay all the same"), max_length=200)

    def named(self) -> dict[str, Any]:
        return {self.cleaned_data["what"]: self.cleaned_data["row"]}
