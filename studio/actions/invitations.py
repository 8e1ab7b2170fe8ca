"""One-time links: to join the studio, or to set a new password. Only the digest of the secret is kept."""

import hashlib
import secrets
from datetime import timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions.history import check, record_change
from studio.actions.people import add_person, set_password
from studio.errors import Refused
from studio.models import Invitation, Person
from studio.roles import PERSON_ROLES, require

INVITATION_DAYS = 14
RESET_HOURS = 48


class UnknownLink(Refused):
    """No link has this secret."""


def digest(secret: str) -> str:
    """SHA-256 is enough for a secret of 256 random bits: nothing to guess, nothing to slow down."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _new(invitation: Invitation) -> tuple[Invitation, str]:
    secret = secrets.token_urlsafe(32)
    invitation.digest = digest(secret)
    # `person` may be empty, which its field does not say.
    check(invitation, exclude=["person"]).save(force_insert=True)
    return invitation, secret


@transaction.atomic
def invite(*, by: Person, role: str, note: str = "", days: int = INVITATION_DAYS) -> tuple[Invitation, str]:
    """A one-time joining link. Returns the invitation and the secret for its address, which is shown once."""
    require(by, "people.invite")
    if role not in [r.value for r in PERSON_ROLES]:
        raise Refused({"role": _("Choose member, technician or manager.")})
    if not 1 <= days <= 90:
        raise Refused({"days": _("An invitation can last from 1 to 90 days.")})
    ends = timezone.now() + timedelta(days=days)
    invitation, secret = _new(Invitation(role=role, note=note.strip(), invited_by=by, expires_at=ends))
    record_change(by=by, verb="invited", obj=invitation, after={"role": role, "note": invitation.note})
    return invitation, secret


@transaction.atomic
def offer_new_password(*, by: Person, person: Person) -> tuple[Invitation, str]:
    """A one-time link with which `person` sets a new password; it takes the place of earlier ones."""
    require(by, "people.change")
    if not person.is_active:
        raise Refused(_("This account is closed. Open it again first."))
    Invitation.objects.filter(person=person, used_at=None, withdrawn_at=None).update(
        withdrawn_at=timezone.now()
    )
    invitation, secret = _new(
        Invitation(
            purpose=Invitation.Purpose.RESET,
            role=person.role,
            person=person,
            invited_by=by,
            expires_at=timezone.now() + timedelta(hours=RESET_HOURS),
        )
    )
    record_change(by=by, verb="offered a new password", obj=person)
    return invitation, secret


@transaction.atomic
def withdraw_invitation(*, by: Person, invitation: Invitation) -> Invitation:
    """End a link that nobody has used. A second time changes nothing."""
    require(by, "people.invite")
    if not Invitation.objects.filter(pk=invitation.pk, used_at=None).exists():
        raise Refused(_("This link has been used already; the person is in the list of people."))
    ended = Invitation.objects.filter(pk=invitation.pk, used_at=None, withdrawn_at=None).update(
        withdrawn_at=timezone.now()
    )
    invitation.refresh_from_db()
    if ended:
        record_change(by=by, verb="withdrew an invitation", obj=invitation)
    return invitation


def open_invitation(secret: str) -> Invitation:
    """The invitation of an address, or Refused with the sentence that the visitor should read."""
    invitation = Invitation.objects.select_related("person").filter(digest=digest(secret)).first()
    if invitation is None:
        raise UnknownLink(
            _("This link is not known. Look at the whole of it, or ask the manager for a new one.")
        )
    if invitation.used_at:
        raise Refused(_("This link has been used already. Log in, or ask the manager for a new one."))
    if invitation.withdrawn_at:
        raise Refused(_("This link was withdrawn. Ask the manager for a new one."))
    if invitation.expires_at <= timezone.now():
        raise Refused(_("This link has run out. Ask the manager for a new one."))
    if invitation.person is not None and not invitation.person.is_active:
        raise Refused(_("This account is closed. Ask the manager to open it again."))
    return invitation


@transaction.atomic
def accept_invitation(*, secret: str, username: str = "", name: str = "", password: str) -> Person:
    """Make the account of a joining link, or set the new password of a reset link. The link is spent."""
    invitation = open_invitation(secret)
    # Spent by a conditional UPDATE: of two browsers with one link only one joins.
    unspent = Invitation.objects.filter(pk=invitation.pk, used_at=None, withdrawn_at=None)
    if not unspent.update(used_at=timezone.now()):
        raise Refused(_("This link has been used already. Log in, or ask the manager for a new one."))
    if invitation.person is None:
        return add_person(username=username, name=name, role=invitation.role, password=password)
    person = Person.objects.select_for_update().get(pk=invitation.person.pk)
    set_password(person, password)
    person.save(update_fields=["password"])
    record_change(by=person, verb="set a new password", obj=person)
    return person
