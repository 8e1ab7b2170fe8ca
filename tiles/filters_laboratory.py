"""What can be asked of laboratory reports and of trials at home."""

from typing import Any

from django.utils.translation import gettext_lazy as _

from inventory.models import Glaze
from studio.filtering import StrictFilterSet, YesNo
from tiles.filter_fields import OneOf, OneWord
from tiles.laboratory_sentences import CATEGORIES, STANDARDS
from tiles.models import ClayBody, HomeTrial, LabLayer, LabReport, Tile


def seen_tiles(request: Any) -> Any:
    """The tiles that whoever asks may see: another's private one is none of the list."""
    return Tile.objects.visible_to(request.user) if request is not None else Tile.objects.none()


class ReportFilter(StrictFilterSet):
    """`withdrawn`: without it both those that stand and those that do not."""

    standard = OneWord(choices=list(STANDARDS.items()), label=_("Judged by"))
    category = OneWord(choices=list(CATEGORIES.items()), label=_("Kind of ware"))
    glaze = OneOf(queryset=Glaze.objects.all(), method="by_glaze", label=_("Glaze"))
    body = OneOf(queryset=ClayBody.objects.all(), label=_("Clay body"))
    tile = OneOf(queryset=seen_tiles, label=_("Tile"))
    withdrawn = YesNo(field_name="withdrawn_at", lookup_expr="isnull", exclude=True, label=_("Withdrawn"))

    class Meta:
        model = LabReport
        fields: list[str] = []

    def by_glaze(self, queryset: Any, name: str, value: Glaze) -> Any:
        return queryset.filter(pk__in=LabLayer.objects.filter(glaze=value).values("report"))


class HomeTrialFilter(StrictFilterSet):
    tile = OneOf(queryset=seen_tiles, label=_("Tile"))
    kind = OneWord(choices=HomeTrial.Kind.choices, label=_("What"))
    result = OneWord(choices=[row for row in HomeTrial.Result.choices if row[0]], label=_("Result"))
    running = YesNo(method="by_running", label=_("Still running"))
    taken_back = YesNo(field_name="taken_back_at", lookup_expr="isnull", exclude=True, label=_("Taken back"))

    class Meta:
        model = HomeTrial
        fields: list[str] = []

    def by_running(self, queryset: Any, name: str, value: bool) -> Any:
        return queryset.filter(result="") if value else queryset.exclude(result="")
