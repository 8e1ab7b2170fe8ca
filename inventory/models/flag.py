"""What is wrong with a fill: raised by anybody, at once in force."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from inventory.models.bucket import Fill
from inventory.models.entries import StockEntry
from inventory.queries import FlagQuerySet
from studio.models import Record, StoredPhoto


class Flag(Record):
    """Open until withdrawn or cleared with an outcome. `since` unknown means the whole fill."""

    class Kind(models.TextChoices):
        CONTAMINATED = "contaminated", _("contaminated")
        WRONG_LABEL = "wrong_label", _("wrong label")
        NOT_FOR_FOOD = "not_for_food", _("not for food")
        DRIED_OUT = "dried_out", _("dried out")
        SETTLED_HARD = "settled_hard", _("settled hard")
        OTHER = "other", _("something else")

    class Outcome(models.TextChoices):
        OPEN = "", _("open")
        WITHDRAWN = "withdrawn", _("withdrawn")
        MISTAKEN = "mistaken", _("mistaken: it never was so")
        PUT_RIGHT = "put_right", _("put right")
        EMPTIED = "emptied", _("emptied")

    fill = models.ForeignKey(Fill, on_delete=models.PROTECT, related_name="flags")
    kind = models.CharField(_("what is wrong"), max_length=12, choices=Kind)
    note = models.TextField(_("what was seen"), blank=True)
    since = models.DateTimeField(
        _("since"), null=True, blank=True, help_text=_("empty: not known, the whole fill")
    )
    # Set on a flag that came with a transfer: the first flag of the chain, and the entry that brought it here. Only
    # the second where a label was poured in, which nobody had flagged.
    origin = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="carried", editable=False
    )
    through = models.ForeignKey(
        StockEntry, null=True, blank=True, on_delete=models.PROTECT, related_name="+", editable=False
    )
    raised_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    outcome = models.CharField(
        _("outcome"), max_length=9, choices=Outcome, blank=True, default="", editable=False
    )
    outcome_note = models.TextField(_("what was done"), blank=True, editable=False)
    put_right_at = models.DateTimeField(_("put right on"), null=True, blank=True, editable=False)
    closed_at = models.DateTimeField(null=True, blank=True, editable=False)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        editable=False,
    )

    objects = FlagQuerySet.as_manager()

    class Meta:
        verbose_name = _("flag")
        ordering = ["-created_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["fill", "kind"],
                condition=Q(outcome="", origin__isnull=True) & ~Q(kind="other"),
                name="flag_one_open_of_a_kind",
            ),
            models.UniqueConstraint(
                fields=["fill", "origin"],
                condition=Q(outcome="", origin__isnull=False),
                name="flag_one_open_of_an_origin",
            ),
            models.CheckConstraint(
                condition=Q(
                    outcome="", closed_at__isnull=True, closed_by__isnull=True, put_right_at__isnull=True
                )
                | Q(outcome="put_right", closed_at__isnull=False, put_right_at__isnull=False)
                | Q(
                    outcome__in=["withdrawn", "mistaken", "emptied"],
                    closed_at__isnull=False,
                    put_right_at__isnull=True,
                ),
                name="flag_outcome_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.fill}"

    def get_absolute_url(self) -> str:
        return reverse("inventory:flag", args=[self.pk])

    @property
    def is_open(self) -> bool:
        return self.outcome == ""


class FlagNote(Record):
    """A second report of an open flag, or a remark on it."""

    flag = models.ForeignKey(Flag, on_delete=models.PROTECT, related_name="notes")
    text = models.TextField(_("what was seen"))
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("note on a flag")
        ordering = ["created_at"]

    def __str__(self) -> str:
        return self.text[:60]


class FlagPhoto(StoredPhoto):
    """A photo of what was seen."""

    flag = models.ForeignKey(Flag, on_delete=models.PROTECT, related_name="photos")

    class Meta:
        verbose_name = _("photo of a flag")
        ordering = ["created_at"]

    def __str__(self) -> str:
        return _("photo of %(flag)s") % {"flag": self.flag}
