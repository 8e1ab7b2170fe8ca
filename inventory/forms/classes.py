"""Making a class list, and the one form of the class's own page."""

import uuid
from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import AmountField, DayField, RecordForm
from inventory.models import ClassList, Fill


class ClassListForm(RecordForm):
    """Name, dates and buckets. Whether it is for children is settled before: it decides what can be chosen."""

    fills = forms.ModelMultipleChoiceField(
        label=_("Buckets"),
        queryset=Fill.objects.none(),
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": _("Choose at least one bucket."),
            "invalid_choice": _("One of these cannot be on the list any more. Look at the buckets again."),
        },
    )

    class Meta:
        model = ClassList
        fields = ["name", "starts_on", "ends_on", "for_children"]
        field_classes = {"starts_on": DayField, "ends_on": DayField}
        error_messages = {
            "name": {"required": _("Give the class a name.")},
            "ends_on": {"required": _("Give its last day.")},
        }
        widgets = {
            "starts_on": DayField.widget,
            "ends_on": DayField.widget,
            "for_children": forms.HiddenInput,
        }

    def __init__(self, *args: Any, offered: list[Fill], children: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.offered = offered
        field: Any = self.fields["fills"]
        field.queryset = Fill.objects.filter(pk__in=[fill.pk for fill in offered]).select_related(
            "glaze", "bucket"
        )
        self.initial["for_children"] = children
        if not self.instance._state.adding:
            self.initial["fills"] = [fill.pk for fill in self.instance.fills.all()]

    @property
    def chips(self) -> list[tuple[Fill, Any]]:
        """(fill, its box) in the order of the walk."""
        boxes = {str(box.data["value"]): box for box in self["fills"]}
        return [(fill, boxes[str(fill.pk)]) for fill in self.offered]

    def values(self) -> dict[str, Any]:
        return {name: value for name, value in super().values().items() if name != "fills"}


def _count_field(label: Any, most: int, *, required: bool = True) -> forms.IntegerField:
    sentence = _("Write a number from 1 to %(most)s.") % {"most": most}
    return forms.IntegerField(
        label=label,
        min_value=1,
        max_value=most,
        required=required,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 6, "autocomplete": "off"}),
        error_messages=dict.fromkeys(("required", "invalid", "min_value", "max_value"), sentence),
    )


class ClassEntryForm(forms.Form):
    """One entry for all the makers of a class."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4, required=False)
    fill = forms.ModelChoiceField(
        label=_("Which bucket?"),
        queryset=Fill.objects.none(),
        widget=forms.RadioSelect,
        empty_label=None,
        error_messages={
            "required": _("Choose the bucket that was used."),
            "invalid_choice": _("That bucket is not offered now. Choose another."),
        },
    )
    makers = _count_field(_("How many makers?"), 200)
    pieces = _count_field(_("How many pieces?"), 2000, required=False)
    volume_ml = AmountField(
        label=_("About how much was used, in mL?"),
        help_text=_("A cup is about 250 mL."),
        max_digits=6,
        decimal_places=1,
        required=False,
    )
    remark = forms.CharField(
        label=_("Anything to say?"), help_text=_("No names, please."), max_length=200, required=False
    )

    def __init__(self, *args: Any, offered: Iterable[Fill], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field: Any = self.fields["fill"]
        chosen = Fill.objects.filter(pk__in=[fill.pk for fill in offered])
        field.queryset = chosen.select_related("glaze", "bucket").in_walking_order()
        field.label_from_instance = lambda fill: f"{fill.glaze.name} · {fill.bucket.code}"
