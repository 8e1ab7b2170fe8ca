from typing import Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import RecordForm
from inventory.models import Place


class PlaceForm(RecordForm):
    class Meta:
        model = Place
        fields = ["name", "kind", "parent", "order"]
        widgets = {"kind": forms.RadioSelect, "order": forms.TextInput(attrs={"inputmode": "numeric"})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        standing = Place.objects.filter(Q(archived_at=None) | Q(pk=self.instance.parent_id))
        self.fields["parent"].queryset = standing.exclude(pk=self.instance.pk)
        self.fields["parent"].empty_label = _("in nothing else")
