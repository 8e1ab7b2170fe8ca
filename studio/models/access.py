"""Ways in beside the password: tokens for programs, one-time links for people."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from studio.models.base import Record
from studio.models.person import Person
from studio.roles import PERSON_ROLES, Role


class Token(Record):
    """A key for a program. Only its digest is stored; the whole key is shown once."""

    class Kind(models.TextChoices):
        PERSON = "person", _("acts as its owner")
        DEVICE = "device", _("a device in the studio, with a member's rights")

    class Scope(models.TextChoices):
        READ = "read", _("read only")
        WRITE = "write", _("read and write")

    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="tokens")
    kind = models.CharField(max_length=6, choices=Kind, default=Kind.PERSON)
    name = models.CharField(_("what it is for"), max_length=80)
    scope = models.CharField(_("scope"), max_length=5, choices=Scope, default=Scope.READ)
    lookup = models.CharField(max_length=10, unique=True, editable=False)
    digest = models.CharField(max_length=64, editable=False)
    expires_at = models.DateTimeField(_("ends"))
    last_used_at = models.DateTimeField(_("last used"), null=True, editable=False)
    revoked_at = models.DateTimeField(null=True, editable=False)

    class Meta:
        verbose_name = _("token")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return self.name

    @property
    def in_force(self) -> bool:
        return self.revoked_at is None and self.expires_at > timezone.now()


class Invitation(Record):
    """A one-time link: to join with a role, or to set a new password."""

    class Purpose(models.TextChoices):
        JOIN = "join", _("join the studio")
        RESET = "reset", _("set a new password")

    purpose = models.CharField(max_length=5, choices=Purpose, default=Purpose.JOIN)
    role = models.CharField(
        _("role"), max_length=12, choices=[(r.value, r.label) for r in PERSON_ROLES], default=Role.MEMBER
    )
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")
    note = models.CharField(_("for whom"), max_length=120, blank=True)
    digest = models.CharField(max_length=64, unique=True, editable=False)
    invited_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="invitations")
    expires_at = models.DateTimeField(_("ends"))
    used_at = models.DateTimeField(null=True, editable=False)
    withdrawn_at = models.DateTimeField(null=True, editable=False)

    class Meta:
        verbose_name = _("invitation")
        ordering = ["-created_at"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(purpose="join", person__isnull=True)
                | models.Q(purpose="reset", person__isnull=False),
                name="invitation_reset_names_a_person",
            )
        ]

    def __str__(self) -> str:
        return self.note or str(self.get_purpose_display())

    @property
    def is_open(self) -> bool:
        return self.used_at is None and self.withdrawn_at is None and self.expires_at > timezone.now()


class IdempotencyRecord(models.Model):
    """The answer to a POST that carried an Idempotency-Key, kept so that a repeat gets the same answer."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=200)
    method_and_path = models.CharField(max_length=300)
    digest = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField(null=True)
    body = models.JSONField(null=True)
    headers = models.JSONField(default=dict)
    created_at = models.DateTimeField(default=timezone.now, db_index=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["person", "key"], name="idempotency_key_once_per_person")
        ]
