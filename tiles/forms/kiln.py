"""What the page of a kiln asks: a part that was changed, the meter, and which cone is wanted where."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.text import capfirst
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeFormField
from studio.pages import VersionedForm
from tiles.forms.fields import Measure, day
from tiles.models import Kiln, PartChange


class PartChangeForm(VersionedForm):
    part = forms.ChoiceField(
        label=_("What is new"), choices=PartChange.Part.choices, widget=forms.RadioSelect
    )
    changed_on = forms.DateField(label=_("Put in on"), widget=day())
    firings_before = forms.IntegerField(
        label=_("Firings it had seen before"),
        required=False,
        min_value=0,
        max_value=5000,
        widget=forms.TextInput({"inputmode": "numeric", "size": 6, "autocomplete": "off"}),
        help_text=_("Nothing for a new one."),
    )
    remark = forms.CharField(label=_("Remark"), required=False, max_length=200)

    def __init__(self, *args: Any, kiln: Kiln, **kwargs: Any) -> None:
        first = {
            "changed_on": timezone.localdate(),
            "version": kiln.version,
            "part": PartChange.Part.ELEMENTS,
        }
        super().__init__(*args, initial={**first, **kwargs.pop("initial", {})}, **kwargs)

    def values(self) -> dict[str, Any]:
        return {**self.cleaned_data, "firings_before": self.cleaned_data["firings_before"] or 0}


class TakeBackForm(forms.Form):
    reason = forms.CharField(label=_("Why"), max_length=200, required=False)


class MeterForm(VersionedForm):
    kwh_read = Measure(
        label=_("Read from the meter (kWh)"),
        min_value=0,
        max_digits=7,
        decimal_places=1,
        help_text=_("What this firing took: the reading after it less the one before."),
    )


class AdviceForm(forms.Form):
    """Asked by address, so that it can be sent on."""

    cone = ConeFormField(label=_("True cone"))
    position = forms.ChoiceField(label=capfirst(_("on the shelf")), required=False)

    def __init__(self, *args: Any, kiln: Kiln, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["position"].choices = [(name, name) for name in kiln.positions]
