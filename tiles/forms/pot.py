"""A pot that is only planned: layers from the clay outwards, body, cone, form. Asked by GET, so it is a link."""

from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.calc.cones import Cone
from inventory.fields import ConeFormField
from inventory.models import Fill, Glaze
from tiles.food import MOST_LAYERS, PotLayer
from tiles.models import ClayBody, Kiln, Layer

FILL, GLAZE = "fill-", "glaze-"


class Shelf:
    """What a layer can be, read once for all rows: what stands in a bucket, and every glaze by its name."""

    def __init__(self) -> None:
        fills = (
            Fill.objects.in_use().select_related("glaze", "bucket").order_by("glaze__name", "bucket__code")
        )
        self.layers: dict[str, tuple[Glaze, Fill | None]] = {f"{FILL}{f.pk}": (f.glaze, f) for f in fills}
        standing = [
            (key, f"{glaze.name} ({fill.bucket.code})") for key, (glaze, fill) in self.layers.items() if fill
        ]
        glazes = {f"{GLAZE}{glaze.pk}": glaze for glaze in Glaze.objects.filter(archived_at=None)}
        self.layers |= {key: (glaze, None) for key, glaze in glazes.items()}
        named = [(key, glaze.name) for key, glaze in glazes.items()]
        self.choices = [
            ("", _("choose")),
            (_("Out of a bucket"), standing),
            (_("Only which glaze"), named),
        ]


class PotLayerForm(forms.Form):
    """One layer. Its names stand once for every layer in the address, in their order."""

    layer = forms.ChoiceField(label=_("Glaze"))
    area = forms.ChoiceField(label=_("Where"), choices=Layer.Area.choices)

    def __init__(self, *args: Any, shelf: Shelf, number: int, **kwargs: Any) -> None:
        super().__init__(*args, auto_id=f"id_{number}_%s", **kwargs)
        self.shelf, self.number = shelf, number
        self.fields["layer"].choices = shelf.choices

    @property
    def title(self) -> str:
        return _now("Layer %(n)s") % {"n": self.number}

    def chosen(self) -> PotLayer:
        glaze, fill = self.shelf.layers[self.cleaned_data["layer"]]
        return PotLayer(glaze=glaze, fill=fill, area=self.cleaned_data["area"])


class PotForm(forms.Form):
    body = forms.ModelChoiceField(
        label=_("Clay body"), queryset=ClayBody.objects.none(), required=False, empty_label=_("not known")
    )
    cone = ConeFormField(label=_("Fired to cone"), required=False)
    form = forms.CharField(
        label=_("Form"), max_length=60, required=False, help_text=_("Such as mug or plate.")
    )
    kiln = forms.ModelChoiceField(
        label=_("Kiln"), queryset=Kiln.objects.none(), required=False, empty_label=_("not known")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["body"].queryset = ClayBody.objects.filter(archived_at=None)
        self.fields["kiln"].queryset = Kiln.objects.filter(archived_at=None)


class PlannedPot:
    """The whole question. An empty row is none; `wants_more` asks for one more."""

    def __init__(self, query: QueryDict) -> None:
        self.shelf = Shelf()
        areas = query.getlist("area")
        asked = [
            (layer, areas[n] if n < len(areas) else Layer.Area.WHOLE)
            for n, layer in enumerate(query.getlist("layer"))
            if layer
        ][:MOST_LAYERS]
        self.rows = [
            self._row(n, {"layer": layer, "area": area}) for n, (layer, area) in enumerate(asked, start=1)
        ]
        self.empty = self._row(len(asked) + 1, None) if not asked or "add" in query else None
        self.form = PotForm(query)
        self.form.is_valid()

    def _row(self, number: int, data: dict[str, str] | None) -> PotLayerForm:
        return PotLayerForm(data, shelf=self.shelf, number=number, initial={"area": Layer.Area.WHOLE})

    @property
    def all_rows(self) -> list[PotLayerForm]:
        return [*self.rows, *([self.empty] if self.empty else [])]

    @property
    def is_full(self) -> bool:
        return len(self.all_rows) >= MOST_LAYERS

    @property
    def is_ready(self) -> bool:
        """Something was asked, and all of it understood."""
        return bool(self.rows) and self.form.is_valid() and all(row.is_valid() for row in self.rows)

    def layers(self) -> list[PotLayer]:
        return [row.chosen() for row in self.rows]

    @property
    def cone(self) -> Cone | None:
        return self.form.cleaned_data["cone"]
