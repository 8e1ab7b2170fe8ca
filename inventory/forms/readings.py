from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.fields import SpecificGravityFormField
from inventory.forms.parts import FillAtHand, MomentField, this_minute
from inventory.models import Reading


class ReadingForm(FillAtHand):
    """One number, and how and when it was read."""

    specific_gravity = SpecificGravityFormField(
        label=_("Specific gravity"), help_text=_("After stirring well. Such as 1.47.")
    )
    method = forms.ChoiceField(
        label=_("How"),
        choices=Reading.Method.choices,
        initial=Reading.Method.WEIGHED,
        widget=forms.RadioSelect,
    )
    taken_at = MomentField(label=_("When"), initial=this_minute, required=False)
    remark = forms.CharField(label=_("Remark"), max_length=200, required=False)
