"""How the shelf's figures are said on a page."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django import template
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.sentences import age_words, cone_range_words, gravity_words
from studio import units

register = template.Library()


@register.filter
def gravity(sg: Decimal | None) -> str:
    return "" if sg is None else gravity_words(sg)


@register.filter
def volume(ml: Decimal | float | None) -> str:
    return units.volume(ml)


@register.filter
def cones(glaze: Any) -> str:
    return cone_range_words(glaze.cone_low, glaze.cone_high)


@register.filter
def ago(moment: datetime | date | None) -> str:
    return "" if moment is None else age_words(moment)


@register.filter
def age(fill: Any) -> str:
    """How old what is in a bucket is: since it was mixed or opened, else since it stands there."""
    if fill.made_on is None:
        return _("put into this bucket %(ago)s") % {"ago": age_words(timezone.localdate(fill.started_at))}
    mixed = fill.glaze.origin == "mixed"
    words = _("mixed %(ago)s") if mixed else _("opened %(ago)s")
    return words % {"ago": age_words(fill.made_on)}


@register.filter
def jar_words(bucket: Any, reader: Any) -> str:
    """Whose own jar a bucket is, as its reader would say it."""
    if bucket.owner_id == reader.pk:
        return _("your own jar")
    return _("own jar of %(name)s") % {"name": bucket.owner.name}


@register.filter
def shown_level(fill: Any) -> str | float | None:
    """The level by eye, or the share that a measured volume is of its bucket."""
    if fill.level or fill.balance_ml is None or not fill.bucket.capacity_ml:
        return fill.level or None
    return float(fill.balance_ml) / fill.bucket.capacity_ml
