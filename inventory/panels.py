"""What the shelf hangs on the pages of others."""

from typing import Any

from django.utils.translation import gettext as _

from inventory.models import Bucket
from inventory.sentences import use_words
from inventory.views.spoken import spoken


def shelf_of_the_studio(request: Any, station: Any) -> dict[str, Any]:
    """Every bucket of the studio with its standing, for a station. Own jars name their owners, so they are left out."""
    buckets = Bucket.objects.on_the_shelf().filter(owner=None).with_fill().walking_order()
    return {"lids": [{"bucket": b, "fill": b.fill, "spoken": spoken(b.fill)} for b in buckets if b.fill]}


def for_everybody(request: Any, nothing: None) -> dict[str, Any]:
    """A part of the help that needs nothing but its words."""
    return {}


def three_lids(request: Any, nothing: None) -> dict[str, Any]:
    """The lid for each answer, with what it means."""
    meanings = [
        ("use", _("The lid is open.")),
        ("ask", _("The lid lies half across: read why, or ask.")),
        ("do_not_use", _("The lid is barred: leave it until a technician clears it.")),
    ]
    return {"lids": [(use_words(use), use, meaning) for use, meaning in meanings]}
