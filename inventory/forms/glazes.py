from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.fields import SpecificGravityFormField
from inventory.forms.parts import AmountField, RecordForm
from inventory.models import Glaze, Opacity, Surface


class GlazeForm(RecordForm):
    """A glaze, or an underglaze, slip, wash or wax."""

    sg_low = SpecificGravityFormField(label=_("SG from"), required=False)
    sg_high = SpecificGravityFormField(label=_("SG to"), required=False)

    expected_movement_mm = AmountField(
        label=_("Expected movement (mm)"),
        help_text=_("How far down it creeps in the firing."),
        max_digits=4,
        decimal_places=1,
        min_value=0,
        required=False,
    )

    class Meta:
        model = Glaze
        fields = [
            "name",
            "kind",
            "origin",
            "maker",
            "product_code",
            "cone_low",
            "cone_high",
            "sg_low",
            "sg_high",
            "surface",
            "opacity",
            "colour",
            "expected_movement_mm",
            "advice",
            "claim",
            "health_statement",
            "remark",
        ]
        widgets = {
            "origin": forms.RadioSelect,
            "advice": forms.Textarea(attrs={"rows": 2}),
            "claim": forms.Textarea(attrs={"rows": 2}),
            "health_statement": forms.Textarea(attrs={"rows": 2}),
            "remark": forms.Textarea(attrs={"rows": 2}),
            "colour": forms.TextInput(attrs={"size": 8, "placeholder": "#8aa0b4", "autocomplete": "off"}),
        }
        help_texts = {"colour": _("The colour in which it is drawn: # and six hexadecimal digits.")}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, choices in (("surface", Surface.choices), ("opacity", Opacity.choices)):
            self.fields[name].choices = [("", _("not said")), *choices]
