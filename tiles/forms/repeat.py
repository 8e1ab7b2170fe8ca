"""The layers of another tile, each with what may be different this time."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.models import Fill, Glaze
from tiles.forms.fields import Measure
from tiles.models import Layer


class RepeatedLayer(forms.Form):
    """One layer as it was. `changes()` is what `repeat_tile` is told of it."""

    what = forms.ChoiceField(label=_("Out of"))
    method = forms.ChoiceField(label=_("How"), choices=Layer.Method.choices)
    coats = forms.IntegerField(label=_("Coats"), min_value=1, max_value=12)
    area = forms.ChoiceField(label=_("Where"), choices=Layer.Area.choices)
    dip_seconds = Measure(label=_("Seconds in the glaze"))
    thickness_mm = Measure(label=_("Thickness (mm)"))
    leave_out = forms.BooleanField(label=_("Leave this layer out"), required=False)

    def __init__(self, *args: Any, layer: dict[str, Any], fills: list[Fill], **kwargs: Any) -> None:
        self.fills = {f"fill:{fill.pk}": fill for fill in fills}
        self.glaze: Glaze = layer["glaze"]
        bare = f"glaze:{self.glaze.pk}"
        was = f"fill:{layer['fill'].pk}" if layer["fill"] else bare
        known = {name: layer[name] for name in ("method", "coats", "area", "dip_seconds", "thickness_mm")}
        super().__init__(*args, initial={**known, "what": was}, **kwargs)
        buckets = [(key, f"{fill.glaze.name} ({fill.bucket.code})") for key, fill in self.fills.items()]
        without = _("%(glaze)s, bucket not noted") % {"glaze": self.glaze.name}
        self.fields["what"].choices = [(bare, without), *buckets]

    def changes(self) -> dict[str, Any] | None:
        """The fields that differ; None leaves the layer out."""
        if self.cleaned_data["leave_out"]:
            return None
        said = {name: self.cleaned_data[name] for name in self.changed_data if name != "leave_out"}
        if what := said.pop("what", ""):
            fill = self.fills.get(what)
            said |= {"fill": fill, "glaze": fill.glaze if fill else self.glaze}
        return said
