"""The history: one row for every write."""

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from studio.models.person import Person


class Change(models.Model):
    """Who did what to which record, when and why. Rows are only ever added."""

    at = models.DateTimeField(default=timezone.now, db_index=True)
    actor = models.ForeignKey(Person, null=True, on_delete=models.SET_NULL, related_name="+")
    actor_name = models.CharField(max_length=120)
    via = models.CharField(max_length=120, blank=True)
    verb = models.CharField(max_length=40)
    kind = models.CharField(max_length=60)
    object_id = models.UUIDField()
    object_text = models.CharField(max_length=200)
    before = models.JSONField(default=dict, blank=True)
    after = models.JSONField(default=dict, blank=True)
    reason = models.TextField(blank=True)
    batch = models.UUIDField(null=True, blank=True)

    class Meta:
        verbose_name = _("change")
        ordering = ["-at", "-id"]
        indexes = [models.Index(fields=["kind", "object_id", "-at"], name="change_of_object")]

    def __str__(self) -> str:
        return f"{self.verb}: {self.object_text}"
