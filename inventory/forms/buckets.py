from typing import Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import RecordForm
from inventory.models import Bucket, Place


class BucketForm(RecordForm):
    """The vessel. An own jar stands on no shelf, so it has no place to ask for."""

    class Meta:
        model = Bucket
        fields = ["place", "capacity_ml", "inner_height_mm", "tare_g", "remark"]
        widgets = {
            "capacity_ml": forms.TextInput(attrs={"inputmode": "numeric", "size": 8}),
            "inner_height_mm": forms.TextInput(attrs={"inputmode": "numeric", "size": 8}),
            "tare_g": forms.TextInput(attrs={"inputmode": "numeric", "size": 8}),
            "remark": forms.Textarea(attrs={"rows": 2}),
        }
        help_texts = {"capacity_ml": _("With it a level by eye becomes a volume.")}

    def __init__(self, *args: Any, own_jar: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if own_jar:
            del self.fields["place"]
        else:
            here = Q(archived_at=None) | Q(pk=self.instance.place_id)
            self.fields["place"].queryset = Place.objects.filter(here)
            self.fields["place"].empty_label = _("not said")
