"""The firing that a logged tile goes into."""

from typing import Any

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from inventory.sentences import cone_words
from tiles.models import Firing


class FiringChoice(forms.ModelChoiceField):
    """A firing by number, kiln, cone with °C, and day: 06 and 6 look different."""

    def label_from_instance(self, obj: Any) -> str:
        parts = [str(obj), obj.kiln.name, cone_words(obj.target_cone), str(obj.get_kind_display())]
        if obj.planned_on:
            parts.append(date_format(obj.planned_on, "j M"))
        return ", ".join(parts)


class LoadForm(forms.Form):
    firing = FiringChoice(
        Firing.objects.filter(state__in=Firing.TAKES_TILES).select_related("kiln").order_by("number"),
        label=_("Firing"),
        empty_label=_("choose"),
    )
    position = forms.ChoiceField(label=_("Where in the kiln"), required=False, widget=forms.RadioSelect)
    override_reason = forms.CharField(
        label=_("Why it goes in all the same"),
        required=False,
        max_length=200,
        help_text=_("Only when something above says stop."),
    )

    def __init__(self, *args: Any, may_override: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        firings = list(self.fields["firing"].queryset)
        self.has_firings = bool(firings)
        places = dict.fromkeys(place for firing in firings for place in firing.kiln.positions)
        self.fields["position"].choices = [(place, place) for place in places] + [("", _("not noted"))]
        if not may_override:
            del self.fields["override_reason"]
