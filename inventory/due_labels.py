"""Lids whose paper says something else than what is in the bucket by now: to be printed again."""

from collections.abc import Iterable
from typing import Any

from django.conf import settings
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from inventory.labels import whys
from inventory.models import Bucket
from studio.registry import Due, DueGroup
from studio.roles import may

ORDER = 95


def due_labels(person: Any, most: int) -> Iterable[DueGroup]:
    """Once printed and out of date since, in the order of the walk; noting them as printed clears them."""
    if not (settings.PUBLIC_URL and may(person, "bucket.change")):
        return
    printed = Bucket.objects.on_the_shelf().filter(owner=None, label_printed_at__isnull=False)
    rows = [(bucket, why) for bucket, why in whys(printed.with_fill().walking_order()) if why]
    items = [_due(bucket, why) for bucket, why in rows[:most]]
    yield DueGroup(
        "labels",
        ORDER,
        _l("Labels to print again"),
        _l("print it"),
        "inventory/_due_label.html",
        len(rows),
        items,
    )


def _due(bucket: Bucket, why: str) -> Due:
    fill = bucket.fill
    return Due(
        kind="inventory.bucket",
        id=bucket.pk,
        name=fill.glaze.name if fill else _("nothing in it"),
        words=bucket.code,
        url=f"{reverse('inventory:labels')}?{urlencode({'bucket': bucket.code})}",
        values={"why": why},
    )
