"""A laboratory's report as it is typed off: its stack of layers, and the figures of each metal, piece by piece."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeFormField
from inventory.forms.parts import DayField
from inventory.models import Glaze
from studio.models import Person
from studio.pages import VersionedForm
from tiles.calc.leach import LeachError
from tiles.calc.leach_values import parse_amount
from tiles.forms.numbers import tile_written
from tiles.laboratory import table
from tiles.laboratory_sentences import CATEGORIES, METAL_WORDS, STANDARDS, leach_error_sentence
from tiles.models import ClayBody, LabReport, LabValue, Layer, Tile

FIRST_ROWS = {"glaze": 3, "metal": 3}
MORE_ROWS = 2
MOST_ROWS = 16
OFF = {"autocomplete": "off"}
NOT_MEASURED = ("-", "–", "—")
DECIMALS = 5


class ReportForm(VersionedForm):
    """`rows` are the questions that repeat: `glaze_1`, `lot_1` ..., `metal_1`, `unit_1`, `figures_1` ..."""

    standard = forms.ChoiceField(label=_("Judged by"), choices=[*STANDARDS.items()])
    category = forms.ChoiceField(label=_("Kind of ware"), choices=[*CATEGORIES.items()])
    laboratory = forms.CharField(label=_("Laboratory"), max_length=120)
    tested_on = DayField(label=_("Tested on"))
    report_number = forms.CharField(label=_("Number of the report"), max_length=60, required=False)
    method = forms.CharField(
        label=_("Method"), max_length=120, required=False, help_text=_("As the report names it.")
    )
    tile = forms.CharField(
        label=_("Tile"),
        max_length=20,
        required=False,
        widget=forms.TextInput(attrs=OFF),
        help_text=_("Its number, if a tile was tested. Layers, body and cone are then taken from it."),
    )
    body = forms.ModelChoiceField(
        label=_("Clay body"), queryset=ClayBody.objects.all(), required=False, empty_label=_("not noted")
    )
    cone = ConeFormField(label=_("Fired to cone"), required=False)
    form = forms.CharField(
        label=_("Form"), max_length=60, required=False, help_text=_("Such as mug or plate.")
    )
    file = forms.FileField(
        label=_("The report itself"),
        required=False,
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": "application/pdf,image/*"}),
        help_text=_(
            "A PDF or a picture, 20 MB at most. Choose it last: a page that comes back cannot keep it."
        ),
    )
    remark = forms.CharField(
        label=_("Remark"), required=False, widget=forms.Textarea(attrs={"rows": 3}), max_length=2000
    )

    def __init__(self, *args: Any, person: Person, report: LabReport | None = None, **kwargs: Any) -> None:
        self.person, self.report = person, report
        more = kwargs.pop("more", 0)
        kwargs["initial"] = {**(_stored(report) if report else {}), **(kwargs.get("initial") or {})}
        super().__init__(*args, **kwargs)
        typed = self.data if self.is_bound else self.initial
        for name, rows in FIRST_ROWS.items():
            for n in range(1, min(max(rows, _highest(typed, name)) + more, MOST_ROWS) + 1):
                self.fields |= _layer_fields(n) if name == "glaze" else _metal_fields(n)

    @property
    def ware(self) -> list[forms.BoundField]:
        names = ["standard", "category", "laboratory", "tested_on", "report_number", "method"]
        return [self[name] for name in names]

    @property
    def piece(self) -> list[forms.BoundField]:
        return [self[name] for name in ("tile", "body", "cone", "form")]

    @property
    def last(self) -> list[forms.BoundField]:
        return [self["file"], self["remark"]]

    def rows(self, *names: str) -> list[list[forms.BoundField]]:
        numbers = [name.rpartition("_")[2] for name in self.fields if name.startswith(f"{names[0]}_")]
        return [[self[f"{name}_{n}"] for name in names] for n in numbers if n.isdigit()]

    @property
    def layers(self) -> list[list[forms.BoundField]]:
        return self.rows("glaze", "lot", "area")

    @property
    def metals(self) -> list[list[forms.BoundField]]:
        return self.rows("metal", "unit", "figures")

    def clean_tile(self) -> Tile | None:
        return tile_written(self.person, self.cleaned_data["tile"])

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        self.figures = [figure for row in self.metals for figure in self._figures(*row)]
        if not self.figures and not self.errors:
            self.add_error("figures_1", _("Give at least one figure, such as lead of piece 1."))
        return data

    def _figures(self, metal: Any, unit: Any, figures: Any) -> Iterator[dict[str, Any]]:
        typed, chosen = self.cleaned_data.get(figures.name, ""), self.cleaned_data.get(metal.name, "")
        if typed and not chosen:
            self.add_error(metal.name, _("Say which metal these figures are of."))
        for piece, text in enumerate(re.sub(r"<\s+", "<", typed).replace(";", " ").split(), start=1):
            if text in NOT_MEASURED:
                continue
            try:
                amount, is_below = parse_amount(text)
            except LeachError as error:
                self.add_error(figures.name, leach_error_sentence(error))
                continue
            if amount != round(amount, DECIMALS) or amount >= 10**DECIMALS:
                self.add_error(
                    figures.name, _now("“%(text)s” has too many figures to keep.") % {"text": text}
                )
                continue
            said = {"piece": piece, "metal": chosen, "amount": round(amount, DECIMALS), "is_below": is_below}
            yield {**said, "unit": self.cleaned_data.get(unit.name) or LabValue.Unit.MG_PER_L}

    def values(self) -> dict[str, Any]:
        """For the action: the record's fields, its layers and figures, and the file where one was chosen."""
        sent = self.cleaned_data
        single = {name: sent[name] for name in self.base_fields if name not in ("version", "file")}
        layers = [
            {"glaze": sent[glaze.name], "lot": sent[lot.name], "area": sent[area.name]}
            for glaze, lot, area in self.layers
            if sent[glaze.name]
        ]
        file = {"file": sent["file"]} if sent["file"] is not None else {}
        return {**single, "layers": layers, "figures": self.figures, **file}

    def choose_again(self) -> None:
        if self.cleaned_data.get("file") is not None:
            self.add_error("file", _("Choose the file again: a page that comes back cannot keep it."))


def _layer_fields(n: int) -> dict[str, forms.Field]:
    glazes = Glaze.objects.exclude(kind=Glaze.Kind.WAX).order_by("name")
    words = {"n": n}
    return {
        f"glaze_{n}": forms.ModelChoiceField(
            label=_now("Layer %(n)s") % words, queryset=glazes, required=False, empty_label=_("none")
        ),
        f"lot_{n}": forms.CharField(
            label=_now("Its lot or recipe version"),
            max_length=60,
            required=False,
            widget=forms.TextInput(attrs=OFF),
        ),
        f"area_{n}": forms.ChoiceField(
            label=_now("Where"), choices=[("", _("not noted")), *Layer.Area.choices], required=False
        ),
    }


def _metal_fields(n: int) -> dict[str, forms.Field]:
    metals = [("", _("none")), *METAL_WORDS.items()]
    first = {1: "Pb", 2: "Cd"}.get(n, "")
    return {
        f"metal_{n}": forms.ChoiceField(label=_now("Metal"), choices=metals, required=False, initial=first),
        f"unit_{n}": forms.ChoiceField(label=_now("in"), choices=LabValue.Unit.choices, required=False),
        f"figures_{n}": forms.CharField(
            label=_now("Released, piece by piece"),
            required=False,
            widget=forms.Textarea(attrs={"rows": 2, **OFF}),
        ),
    }


def _highest(typed: Mapping[str, Any], name: str) -> int:
    numbers = [key.rpartition("_")[2] for key in typed if key.startswith(f"{name}_")]
    return max((int(number) for number in numbers if number.isdecimal() and len(number) < 3), default=0)


def _stored(report: LabReport) -> dict[str, Any]:
    """The report as the form would have been filled in."""
    single = (
        "standard",
        "category",
        "laboratory",
        "tested_on",
        "report_number",
        "method",
        "body",
        "cone",
        "form",
    )
    initial: dict[str, Any] = {name: getattr(report, name) for name in (*single, "remark", "version")}
    initial["tile"] = report.tile.number if report.tile else ""
    for n, layer in enumerate(report.layers.all(), start=1):
        initial |= {f"glaze_{n}": layer.glaze, f"lot_{n}": layer.lot, f"area_{n}": layer.area}
    pieces = table(report)["pieces"]
    for n, (metal, unit, amounts) in enumerate(table(report)["rows"], start=1):
        by_piece = dict(zip(pieces, amounts, strict=True))
        text = " ".join(by_piece.get(piece) or "-" for piece in range(1, max(pieces) + 1))
        initial |= {f"metal_{n}": metal, f"unit_{n}": unit, f"figures_{n}": text}
    return initial


class WithdrawForm(VersionedForm):
    reason = forms.CharField(label=_("Why"), max_length=200)
