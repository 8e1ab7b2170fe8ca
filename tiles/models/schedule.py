"""A way to fire that the studio keeps: ramps, targets, holds, and how it cools."""

from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from studio.models import Aggregate
from tiles.models.firing import Firing


class Schedule(Aggregate):
    """Its `segments` in order, each `{"rate_c_per_h": n or null, "to_c": n, "hold_min": n}`.

    A null rate is as fast as the kiln goes; a target below the one before is cooling. A firing copies the segments
    when it is planned, so that what is changed here later does not rewrite what was fired.
    """

    name = models.CharField(_("name"), max_length=120)
    kind = models.CharField(_("kind"), max_length=9, choices=Firing.Kind, default=Firing.Kind.GLAZE)
    target_cone = ConeField(_("meant for cone"), null=True, blank=True)
    segments = models.JSONField(_("segments"), default=list)
    remark = models.TextField(_("remark"), blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("schedule")
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="schedule_name_once",
                violation_error_message=_("There is a schedule of this name already."),
            )
        ]

    def __str__(self) -> str:
        return self.name
