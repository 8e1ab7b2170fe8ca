"""What of concern is in a glaze, and taking back what was misread."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import DayField, decimal_input
from inventory.models import GlazeSubstance
from studio.pages import VersionedForm


class PercentField(forms.DecimalField):
    """Point or comma."""

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class SubstanceForm(forms.Form):
    substance = forms.ChoiceField(
        label=_("What is in it?"), choices=[("", _("choose")), *GlazeSubstance.Substance.choices]
    )
    percent = PercentField(
        label=_("How much (% of the dry glaze, as the oxide)"),
        help_text=_("Empty: nobody knows."),
        max_digits=6,
        decimal_places=3,
        max_value=100,
        required=False,
        widget=decimal_input(),
    )
    read_in = forms.ChoiceField(
        label=_("Where it was read"), choices=GlazeSubstance.Read.choices, widget=forms.RadioSelect
    )
    words = forms.CharField(
        label=_("As it stands there"),
        max_length=200,
        required=False,
        help_text=_("Such as: contains cobalt compounds."),
    )
    lot = forms.CharField(label=_("Batch or lot"), max_length=60, required=False)
    read_on = DayField(label=_("Read on"), initial=timezone.localdate)


class WhyItIsNotSoForm(VersionedForm):
    reason = forms.CharField(
        label=_("How do you know that it is not so?"),
        widget=forms.Textarea(attrs={"rows": 3}),
        max_length=500,
    )
