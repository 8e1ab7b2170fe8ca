"""What a kiln's own instrument wrote down: the readings of one firing, and a file that is still being asked about."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from studio.models import Record
from tiles.models.firing import Firing


class FiringLog(Record):
    """The readings of a firing, packed by `calc.readings`, and what was worked out of them.

    Second 0 is `begins_at`; a file that holds only elapsed times has none. `marks` are what was found wrong in the
    readings, `how` is how the file was read. The cone is the highest whole one down, `cone_fraction` the way from it
    to the next; `computed_with` names the coefficients, so that doctor knows what to work out anew.
    """

    class Source(models.TextChoices):
        FILE = "file", _("from a file")
        LIVE = "live", _("sent by the kiln's instrument")

    firing = models.OneToOneField(Firing, on_delete=models.PROTECT, related_name="log")
    source = models.CharField(max_length=4, choices=Source, editable=False)
    begins_at = models.DateTimeField(_("begins"), null=True, blank=True, editable=False)
    readings = models.BinaryField(editable=False)
    count = models.PositiveIntegerField(_("readings"), default=0, editable=False)
    last_s = models.PositiveIntegerField(default=0, editable=False)
    last_c = models.FloatField(null=True, blank=True, editable=False)
    last_sent_at = models.DateTimeField(null=True, blank=True, editable=False)
    peak_s = models.PositiveIntegerField(null=True, blank=True, editable=False)
    peak_c = models.FloatField(_("hottest (°C)"), null=True, blank=True, editable=False)
    marks = models.JSONField(default=list, blank=True, editable=False)
    how = models.JSONField(default=dict, blank=True, editable=False)
    cone = ConeField(_("cone"), null=True, blank=True, editable=False)
    cone_fraction = models.FloatField(null=True, blank=True, editable=False)
    cone_low = ConeField(null=True, blank=True, editable=False)
    cone_high = ConeField(null=True, blank=True, editable=False)
    rate_c_per_h = models.FloatField(_("climb over the last 100 °C (°C/h)"), null=True, editable=False)
    computed_with = models.CharField(max_length=16, blank=True, editable=False)

    class Meta:
        verbose_name = _("log of a firing")

    def __str__(self) -> str:
        return _("log of %(firing)s") % {"firing": self.firing}


class LogTakenBack(Record):
    """A log that is no longer its firing's: nothing of it is thrown away, and it can be had as a file."""

    firing = models.ForeignKey(Firing, on_delete=models.PROTECT, related_name="logs_taken_back")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    reason = models.CharField(_("reason"), max_length=200)
    source = models.CharField(max_length=4, choices=FiringLog.Source)
    begins_at = models.DateTimeField(null=True)
    readings = models.BinaryField()
    count = models.PositiveIntegerField()
    how = models.JSONField(default=dict)

    class Meta:
        verbose_name = _("log that was taken back")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return _("log of %(firing)s, taken back") % {"firing": self.firing}


class LogDraft(Record):
    """A file of readings as it was sent, kept until somebody has said how it is to be read; then it is gone."""

    firing = models.ForeignKey(Firing, on_delete=models.CASCADE, related_name="log_drafts")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    file_name = models.CharField(max_length=200, blank=True)
    packed = models.BinaryField(editable=False)
    guess = models.JSONField(default=dict, blank=True)

    class Meta:
        verbose_name = _("log that is being read")
        constraints = [
            models.UniqueConstraint(fields=["firing", "person"], name="log_draft_once_for_each_person")
        ]

    def __str__(self) -> str:
        return self.file_name


class FiringEvent(Record):
    """Something that happened while the kiln was hot and that the curve should show: a vent closed, a look in."""

    firing = models.ForeignKey(Firing, on_delete=models.PROTECT, related_name="events")
    at = models.DateTimeField(_("when"))
    words = models.CharField(_("what"), max_length=120)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    taken_back_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("event of a firing")
        ordering = ["at", "created_at"]

    def __str__(self) -> str:
        return self.words


class PartChange(Record):
    """New elements or a new thermocouple in a kiln: from then on the firings are counted anew."""

    class Part(models.TextChoices):
        ELEMENTS = "elements", _("elements")
        THERMOCOUPLE = "thermocouple", _("thermocouple")

    kiln = models.ForeignKey("tiles.Kiln", on_delete=models.PROTECT, related_name="part_changes")
    part = models.CharField(_("part"), max_length=12, choices=Part)
    changed_on = models.DateField(_("put in on"))
    # Firings that the part had seen before the studio wrote anything down.
    firings_before = models.PositiveIntegerField(
        _("firings before"), default=0, validators=[MinValueValidator(0), MaxValueValidator(5000)]
    )
    remark = models.CharField(_("remark"), max_length=200, blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("part changed in a kiln")
        ordering = ["-changed_on", "-created_at"]

    def __str__(self) -> str:
        return f"{self.get_part_display()} {self.changed_on}"
