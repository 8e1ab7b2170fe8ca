from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import AmountField, OneEntry, count_input
from inventory.models import Bucket, Level, StockEntry

MEASURED = ("level", "volume_ml", "depth_mm", "gross_g")


def level_field(label: Any, **kwargs: Any) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label, choices=Level.choices, required=False, widget=forms.RadioSelect, **kwargs
    )


def volume_field(label: Any, help_text: Any = "") -> AmountField:
    return AmountField(
        label=label, help_text=help_text, max_digits=9, decimal_places=1, min_value=0, required=False
    )


class StockForm(OneEntry):
    """A level seen or measured, or something put in or taken out."""

    KINDS = [
        (StockEntry.Kind.LEVEL, _("level seen or measured")),
        (StockEntry.Kind.TOPPED_UP, _("topped up")),
        (StockEntry.Kind.TAKEN_OUT, _("taken out")),
        (StockEntry.Kind.WATER, _("water added")),
        (StockEntry.Kind.POURED_OFF, _("water taken off the top")),
        (StockEntry.Kind.DISCARDED, _("thrown away")),
    ]
    kind = forms.ChoiceField(
        label=_("What"), choices=KINDS, initial=StockEntry.Kind.LEVEL, widget=forms.RadioSelect
    )
    level = level_field(_("Level by eye"))
    volume_ml = volume_field(
        _("Volume in mL"), _("In place of the level by eye, or how much went in or out.")
    )
    depth_mm = forms.IntegerField(
        label=_("Dipstick (mm)"),
        help_text=_("How deep the glaze stands, in place of the level by eye."),
        min_value=0,
        max_value=5000,
        required=False,
        widget=count_input(),
    )
    gross_g = forms.IntegerField(
        label=_("Weighs with the bucket (g)"),
        help_text=_("With its last specific gravity this is a volume."),
        min_value=0,
        max_value=500_000,
        required=False,
        widget=count_input(),
    )
    remark = forms.CharField(label=_("Remark"), max_length=200, required=False)

    def __init__(self, *args: Any, bucket: Bucket, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not (bucket.inner_height_mm and bucket.capacity_ml):
            del self.fields["depth_mm"]
        if bucket.tare_g is None:
            del self.fields["gross_g"]

    def clean(self) -> dict[str, Any]:
        found = super().clean() or self.cleaned_data
        if "volume_ml" not in found or "kind" not in found:
            return found
        seen = found["kind"] == StockEntry.Kind.LEVEL
        ways = [name for name in MEASURED if found.get(name) not in (None, "")]
        if seen and not ways and not self.errors:
            self.add_error("level", _("Choose how full it looks, or give a volume."))
        if seen and len(ways) > 1:
            self.add_error(ways[-1], _("Two ways of measuring may disagree. Give the better one only."))
        if not seen and not found["volume_ml"]:
            self.add_error("volume_ml", _("Say how many mL went in or out."))
        return found

    def entry(self) -> dict[str, Any]:
        """The fields of the entry; amounts are above 0, and the kind says which way they went."""
        found = super().entry()
        if found["kind"] != StockEntry.Kind.LEVEL:
            found |= {name: blank for name, blank in BLANKS.items() if name in found}
        return found


# A level is only for a level: what stands in these beside an amount was left over from a change of mind.
BLANKS: dict[str, Any] = {"level": "", "depth_mm": None, "gross_g": None}
