"""An ordered set of glazes as it lies in a zone: what was over what."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from inventory.models import Glaze
from studio.models import Aggregate
from tiles.queries import CombinationQuerySet


class Combination(Aggregate):
    """Glazes from the clay outwards, without wax. `key` is their ids in order; the studio's remark is kept here."""

    key = models.CharField(max_length=400, unique=True, editable=False)
    remark = models.TextField(_("remark"), blank=True)

    objects = CombinationQuerySet.as_manager()

    class Meta:
        verbose_name = _("combination")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return " → ".join(part.glaze.name for part in self.parts.all())


class CombinationPart(models.Model):
    """One glaze of a combination; position 1 lies on the clay."""

    combination = models.ForeignKey(Combination, on_delete=models.CASCADE, related_name="parts")
    position = models.PositiveSmallIntegerField()
    glaze = models.ForeignKey(Glaze, on_delete=models.PROTECT, related_name="combination_parts")

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["combination", "position"], name="combination_position_once")
        ]

    def __str__(self) -> str:
        return f"{self.position} {self.glaze}"
