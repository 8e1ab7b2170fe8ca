"""An SG round: the cup once, then one number for each bucket."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.fields import SpecificGravityFormField
from inventory.forms.parts import AmountField


class CupForm(forms.Form):
    """The measuring cup, so that at each bucket only the scale's number is typed."""

    cup_ml = AmountField(
        label=_("The cup holds (mL)"),
        help_text=_("Filled to the brim or to its line, each time the same. 100 mL or more weighs best."),
        max_digits=7,
        decimal_places=1,
        min_value=10,
        initial=100,
    )
    cup_g = AmountField(
        label=_("The empty cup weighs (g)"),
        help_text=_("0 when the scale is set to nought with the cup on it."),
        max_digits=7,
        decimal_places=1,
        min_value=0,
        initial=0,
    )


class StopForm(forms.Form):
    """One bucket: the full cup's weight, or a specific gravity read otherwise."""

    stop = forms.IntegerField(widget=forms.HiddenInput)
    gross_g = AmountField(
        label=_("Full cup weighs (g)"), max_digits=7, decimal_places=1, min_value=0, required=False
    )
    specific_gravity = SpecificGravityFormField(label=_("Specific gravity read otherwise"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["gross_g"].widget.attrs |= {"autofocus": True, "enterkeyhint": "next"}


class PassForm(forms.Form):
    """Why a bucket is passed over."""

    WHY = [
        ("away", _("not here")),
        ("used", _("being used")),
        ("empty", _("empty")),
        ("other", _("other")),
    ]
    stop = forms.IntegerField(widget=forms.HiddenInput)
    why = forms.ChoiceField(label=_("Pass over"), choices=WHY)

    def words(self) -> str:
        return str(dict(self.WHY)[self.cleaned_data["why"]])
