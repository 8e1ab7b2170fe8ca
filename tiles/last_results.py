"""The newest laboratory result of each glaze, for the shelf's register: which day and whose, not what it said."""

from collections.abc import Iterable
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from tiles.models import LabLayer, LabReport


def last_results(glazes: Iterable[Any], person: Any) -> dict[Any, str]:
    """By the key of the glaze, of ware on which it lay in any layer; withdrawn reports do not count. One query."""
    standing = LabReport.objects.visible_to(person).filter(withdrawn_at=None)
    rows = LabLayer.objects.filter(glaze__in=glazes, report__in=standing)
    rows = rows.order_by("report__tested_on", "report__created_at")
    found = rows.values_list("glaze", "report__tested_on", "report__laboratory")
    # In the order of their days, so that the newest stays.
    return {
        glaze: _("%(day)s, %(laboratory)s") % {"day": date_format(day, "j M Y"), "laboratory": laboratory}
        for glaze, day, laboratory in found
    }
