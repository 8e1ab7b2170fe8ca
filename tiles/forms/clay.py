"""Clay bodies and kilns as they are written down."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import RecordForm
from tiles.forms.fields import Measure
from tiles.models import ClayBody, Kiln


class BodyForm(RecordForm):
    absorption_percent = Measure(
        label=_("Absorption (%)"),
        min_value=0,
        max_value=40,
        max_digits=4,
        decimal_places=1,
        help_text=_("Of the fired body, by weight, as its maker gives it or as you measured it."),
    )
    expansion = Measure(
        label=_("Expansion (1e-6/K, linear)"),
        max_digits=4,
        decimal_places=2,
        help_text=_("As its maker gives it."),
    )

    class Meta:
        model = ClayBody
        fields = [
            "name",
            "bisque_cone",
            "cone_low",
            "cone_high",
            "colour",
            "absorption_percent",
            "expansion",
            "expansion_range_c",
            "remark",
        ]
        widgets = {"remark": forms.Textarea(attrs={"rows": 3}), "colour": forms.RadioSelect}
        help_texts = {
            "cone_low": _("A nought in front makes a cone cooler: 06 is cooler than 6."),
            "expansion_range_c": _("The temperatures that the figure holds between, such as 20–500."),
        }


class LinesField(forms.CharField):
    """A list, one entry on each line."""

    widget = forms.Textarea(attrs={"rows": 4})

    def prepare_value(self, value: Any) -> Any:
        return "\n".join(value) if isinstance(value, list) else value

    def to_python(self, value: Any) -> Any:
        return [line.strip() for line in (super().to_python(value) or "").splitlines() if line.strip()]


class KilnForm(RecordForm):
    positions = LinesField(
        label=_("positions"),
        required=False,
        help_text=_("One on each line, from the top down, as you call them when you load."),
    )

    power_kw = Measure(
        label=_("Power (kW)"),
        max_digits=5,
        decimal_places=2,
        help_text=_("From its plate. With it the energy of a firing is reckoned."),
    )

    class Meta:
        model = Kiln
        fields = [
            "name",
            "highest_cone",
            "positions",
            "thermocouple",
            "lead_or_cadmium",
            "lustre",
            "salt",
            "cautions",
            "power_kw",
            "duty_percent",
            "elements_last",
            "thermocouple_last",
        ]
        widgets = {
            "cautions": forms.Textarea(attrs={"rows": 3}),
            **{
                name: forms.TextInput(attrs={"inputmode": "numeric", "size": 6, "autocomplete": "off"})
                for name in ("duty_percent", "elements_last", "thermocouple_last")
            },
        }
        help_texts = {
            "cautions": _("What somebody should know before putting a pot into it."),
            "duty_percent": _("How much of the climb its elements are on, if you know it: 1 to 100."),
            "elements_last": _("After so many firings technicians are reminded to measure them."),
            "thermocouple_last": _(
                "After so many firings technicians are reminded to compare it or change it."
            ),
        }
