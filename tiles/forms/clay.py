"""Clay bodies and kilns as they are written down."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import RecordForm
from tiles.models import ClayBody, Kiln


class BodyForm(RecordForm):
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
            "absorption_percent": _(
                "Of the fired body, by weight, as its maker gives it or as you measured it."
            ),
            "expansion": _("As its maker gives it."),
            "expansion_range_c": _("The temperatures that the figure holds between, such as 20–500."),
        }


class LinesField(forms.CharField):
    """A list, one entry on each line."""

    widget = forms.Textarea(attrs={"rows": 4})

    def prepare_value(self, value: Any) -> Any:
        return "\n".join(value) if isinstance(value, list) else value

    def to_python(self, value: Any) -> Any:
        return [line.strip() for line in super().to_python(value).splitlines() if line.strip()]


class KilnForm(RecordForm):
    positions = LinesField(
        label=_("positions"),
        required=False,
        help_text=_("One on each line, from the top down, as you call them when you load."),
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
        ]
        widgets = {"cautions": forms.Textarea(attrs={"rows": 3})}
        help_texts = {"cautions": _("What somebody should know before putting a pot into it.")}
