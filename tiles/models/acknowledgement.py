"""Findings that somebody has read and set aside, with the reason."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models import Record
from tiles.models.tile import Tile


class Acknowledgement(Record):
    """One finding about a tile, read and answered. It is kept with the tile; the finding is shown as answered."""

    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="acknowledgements")
    code = models.CharField(max_length=40)
    about = models.CharField(max_length=60, blank=True)
    level = models.CharField(max_length=4)
    sentence = models.TextField()
    reason = models.CharField(_("reason"), max_length=200)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("acknowledged finding")
        ordering = ["created_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["tile", "code", "about", "sentence"], name="finding_acknowledged_once"
            )
        ]

    def __str__(self) -> str:
        return self.sentence
