"""Why something went wrong: the studio's own table of causes, what was tried against them, and marked tiles."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from inventory.models import Flag
from studio.models import Aggregate, Record
from tiles.models.outcome import OutcomeFault
from tiles.models.tile import Tile
from tiles.queries_causes import RemedyTrialQuerySet


class CauseTable(Record):
    """A table of causes that a technician has edited. The newest one is in force; none: that of the fixtures."""

    table = models.TextField(editable=False)
    reason = models.CharField(_("what was changed"), max_length=200)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    is_standard = models.BooleanField(default=False, editable=False)

    class Meta:
        verbose_name = _("table of causes")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return self.reason

    @property
    def version(self) -> int:
        """How many tables there were with this one: none is ever deleted, so whoever read one can be told it went."""
        return CauseTable.objects.filter(created_at__lte=self.created_at).count()

    def get_absolute_url(self) -> str:
        return reverse("tiles:causes")


class RemedyTrial(Aggregate):
    """A tile made again with one change, to find out whether a cause was the one. `helped` is counted."""

    class Helped(models.TextChoices):
        OPEN = "", _("not known yet")
        YES = "yes", _("it helped")
        NO = "no", _("it did not help")
        UNCLEAR = "unclear", _("cannot say")

    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="remedy_trials")
    fault = models.CharField(max_length=16, choices=OutcomeFault.Kind)
    cause = models.CharField(max_length=40)
    change = models.CharField(_("what is changed"), max_length=200)
    new_tile = models.OneToOneField(
        Tile, null=True, blank=True, on_delete=models.PROTECT, related_name="made_to_try"
    )
    helped = models.CharField(_("result"), max_length=7, choices=Helped, blank=True)
    said_at = models.DateTimeField(null=True, blank=True, editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    dropped_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = RemedyTrialQuerySet.as_manager()

    class Meta:
        verbose_name = _("trial of a remedy")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return self.change

    def get_absolute_url(self) -> str:
        return f"{reverse('tiles:why', args=[self.tile.number])}?fault={self.fault}"


class FlagMark(Record):
    """A tile set aside because of a flag, together with others in one step; `batch` is that step."""

    flag = models.ForeignKey(Flag, on_delete=models.PROTECT, related_name="marks")
    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="flag_marks")
    batch = models.UUIDField(editable=False, db_index=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    undone_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("tile marked for a flag")
        ordering = ["created_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["flag", "tile"],
                condition=Q(undone_at__isnull=True),
                name="tile_marked_once_for_a_flag",
            )
        ]

    def __str__(self) -> str:
        return f"{self.tile} / {self.flag}"
