from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import (
    AmountField,
    DayField,
    FillAtHand,
    MomentField,
    RecordForm,
    this_minute,
)
from inventory.models import Fill, Glaze, Label, Level, StockEntry
from studio.pages import VersionedForm


def _label_field() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("Its label says"),
        help_text=_("Only what the container of a bought product prints. Mixed here: leave it."),
        choices=[("", _("not read")), *Label.choices],
        required=False,
        widget=forms.RadioSelect,
    )


class StartFillForm(forms.Form):
    """A glaze into an empty bucket."""

    glaze = forms.ModelChoiceField(label=_("Glaze"), queryset=Glaze.objects.none())
    lot = forms.CharField(label=_("Batch or lot"), max_length=60, required=False)
    made_on = DayField(label=_("Mixed or opened on"), required=False)
    started_at = MomentField(label=_("In this bucket since"), initial=this_minute, required=False)
    level = forms.ChoiceField(
        label=_("How full"),
        choices=[("", _("not looked at")), *Level.choices[:-1]],
        required=False,
        widget=forms.RadioSelect,
    )
    label = _label_field()
    label_condition = forms.CharField(
        label=_("On condition"),
        max_length=160,
        required=False,
        help_text=_("As printed: a cone, used alone, under a clear."),
    )
    remark = forms.CharField(label=_("Remark"), widget=forms.Textarea(attrs={"rows": 2}), required=False)

    def __init__(self, *args: Any, glazes: QuerySet[Glaze], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["glaze"].queryset = glazes  # type: ignore[attr-defined]


class FillForm(RecordForm):
    """What may be put right about a fill: all but which glaze it is and where."""

    label = _label_field()

    class Meta:
        model = Fill
        fields = ["lot", "made_on", "label", "label_condition", "remark"]
        field_classes = {"made_on": DayField}
        widgets = {"made_on": DayField.widget, "remark": forms.Textarea(attrs={"rows": 3})}


class EndFillForm(VersionedForm):
    why = forms.CharField(
        label=_("How it ended"), max_length=120, help_text=_("Such as: used up, thrown away, dried out.")
    )
    ended_at = MomentField(label=_("When"), initial=this_minute, required=False)


class StockForm(FillAtHand):
    """A level seen, or something put in or taken out."""

    KINDS = [
        (StockEntry.Kind.LEVEL, _("level seen")),
        (StockEntry.Kind.TOPPED_UP, _("topped up")),
        (StockEntry.Kind.TAKEN_OUT, _("taken out")),
        (StockEntry.Kind.DISCARDED, _("thrown away")),
    ]
    kind = forms.ChoiceField(
        label=_("What"), choices=KINDS, initial=StockEntry.Kind.LEVEL, widget=forms.RadioSelect
    )
    level = forms.ChoiceField(
        label=_("Level by eye"), choices=Level.choices, required=False, widget=forms.RadioSelect
    )
    volume_ml = AmountField(
        label=_("Volume in mL"),
        help_text=_("In place of the level by eye, or how much went in or out."),
        max_digits=9,
        decimal_places=1,
        min_value=0,
        required=False,
    )
    remark = forms.CharField(label=_("Remark"), max_length=200, required=False)

    def clean(self) -> dict[str, Any]:
        found = super().clean() or self.cleaned_data
        if "volume_ml" not in found or "kind" not in found:
            return found
        seen, volume = found["kind"] == StockEntry.Kind.LEVEL, found["volume_ml"]
        if seen and volume is None and not found.get("level"):
            self.add_error("level", _("Choose how full it looks, or give a volume."))
        if not seen and not volume:
            self.add_error("volume_ml", _("Say how many mL went in or out."))
        return found

    def entry(self) -> dict[str, Any]:
        """The fields of the entry; what leaves a bucket is written with a minus."""
        found = {name: self.cleaned_data[name] for name in ("kind", "level", "volume_ml", "remark")}
        if found["kind"] in (StockEntry.Kind.TAKEN_OUT, StockEntry.Kind.DISCARDED):
            found["volume_ml"] = -found["volume_ml"]
        return found
