from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import AmountField, DayField, MomentField, RecordForm, this_minute
from inventory.models import ChildFit, Fill, Glaze, Label, Level
from studio.pages import VersionedForm


def _label_field() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("Its label says"),
        help_text=_("Only what the container of a bought product prints. Mixed here: leave it."),
        choices=[("", _("not read")), *Label.choices],
        required=False,
        widget=forms.RadioSelect,
    )


def _child_fit_field() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("For children, its container says"),
        help_text=_("Only what is printed on it. For a class list for children it must name them."),
        choices=[("", _("not read")), *ChildFit.choices],
        required=False,
        widget=forms.RadioSelect,
    )


def _price_field() -> AmountField:
    return AmountField(label=_("Price paid"), max_digits=9, decimal_places=2, min_value=0, required=False)


class StartFillForm(forms.Form):
    """A glaze into an empty bucket."""

    glaze = forms.ModelChoiceField(label=_("Glaze"), queryset=Glaze.objects.none(), empty_label=_("choose"))
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
    child_fit = _child_fit_field()
    container_size = forms.CharField(label=_("Size of the container"), max_length=40, required=False)
    price = _price_field()
    remark = forms.CharField(label=_("Remark"), widget=forms.Textarea(attrs={"rows": 2}), required=False)

    def __init__(self, *args: Any, glazes: QuerySet[Glaze], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["glaze"].queryset = glazes


class FillForm(RecordForm):
    """What may be put right about a fill: all but which glaze it is and where."""

    label = _label_field()
    child_fit = _child_fit_field()
    price = _price_field()

    class Meta:
        model = Fill
        fields = [
            "lot",
            "made_on",
            "label",
            "label_condition",
            "child_fit",
            "container_size",
            "price",
            "remark",
        ]
        field_classes = {"made_on": DayField}
        widgets = {"made_on": DayField.widget, "remark": forms.Textarea(attrs={"rows": 3})}


class EndFillForm(VersionedForm):
    why = forms.CharField(
        label=_("How it ended"), max_length=120, help_text=_("Such as: used up, thrown away, dried out.")
    )
    ended_at = MomentField(label=_("When"), initial=this_minute, required=False)
