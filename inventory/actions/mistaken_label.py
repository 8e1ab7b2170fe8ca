"""Taking back a label against food that was never printed: the one way in which such a label goes from a fill."""

from django.db import transaction
from django.utils.translation import gettext as _

from inventory.actions.spread import queue_up
from inventory.models import Fill, Label
from studio.actions import change
from studio.errors import Refused
from studio.models import Person
from studio.roles import require


@transaction.atomic
def withdraw_label(*, by: Person, fill: Fill, reason: str, version: int | None = None) -> Fill:
    """A “not for food” label was misread: nobody has read the container then, and the history says why.

    Who may is whoever may clear a flag as mistaken. Flags that the label raised in other buckets stay: each is cleared
    on its own, because something else may be wrong there.
    """
    require(by, "flag.clear")
    queue_up()
    stored = Fill.objects.select_for_update(of=("self",)).get(pk=fill.pk)
    if stored.label != Label.NOT_FOR_FOOD:
        raise Refused(_("Its label does not say “not for food”, so there is nothing to take back."))
    if not reason.strip():
        raise Refused(
            {
                "reason": _(
                    "Say how you know that the container never said so: whoever eats from it relies on this."
                )
            }
        )
    values = {"label": "", "label_condition": "", "label_read_by": None, "label_read_on": None}
    return change(
        by=by,
        obj=fill,
        values=values,
        version=version,
        reason=reason.strip(),
        verb="withdrew the label as mistaken",
    )
