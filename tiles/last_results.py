"""The newest laboratory result of each glaze, for the shelf's register: which day, whose, and whether it was over.

That a result was within a limit is not said here: it is of fired ware, and not of what is in a bucket.
"""

from collections.abc import Iterable
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from tiles.laboratory import judged
from tiles.models import LabReport


def last_results(glazes: Iterable[Any], person: Any) -> dict[Any, str]:
    """By the key of the glaze, of ware on which it lay in any layer; withdrawn reports do not count. An older one that
    was over the limit is told beside the newest. As many queries however many reports there are.
    """
    asked = set(glazes)
    rows = LabReport.objects.visible_to(person).standing().filter(layers__glaze__in=asked).with_parts()
    newest: dict[Any, str] = {}
    over: dict[Any, str] = {}
    for report in rows.distinct().order_by("tested_on", "created_at"):
        said = _("%(day)s, %(laboratory)s") % {
            "day": date_format(report.tested_on, "j M Y"),
            "laboratory": report.laboratory,
        }
        found = judged(report)
        is_over = found is not None and found.verdict == "over"
        said = _("%(result)s: over the limit") % {"result": said} if is_over else said
        # In the order of their days, so that the newest stays.
        for glaze in asked & {layer.glaze_id for layer in report.layers.all()}:
            newest[glaze] = said
            if is_over:
                over[glaze] = said
    return {
        glaze: said if over.get(glaze, said) == said else f"{said}; {over[glaze]}"
        for glaze, said in newest.items()
    }
