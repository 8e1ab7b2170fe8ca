"""Writes about people: invitations, joining, roles, leaving, preferences."""

import hashlib
import secrets
from datetime import timedelta
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions.history import check, record_change
from studio.errors import Refused
from studio.models import Invitation, Person
from studio.roles import PERSON_ROLES, Role, require

INVITATION_DAYS = 14
RESET_HOURS = 48


def digest(secret: str) -> str:
    """SHA-256 is enough for a secret of 256 random bits: nothing to guess, nothing to slow down."""
    return hashlib.sha256(secret.encode()).hexdigest()


@transaction.atomic
def invite(*, by: Person, role: str, note: str = "", days: int = INVITATION_DAYS) -> tuple[Invitation, str]:
    """A one-time joining link. Returns the invitation and the secret for its address, which is shown once."""
    require(by, "people.invite")
    if role not in [r.value for r in PERSON_ROLES]:
        raise Refused({"role": _("Choose member, technician or manager.")})
    if not 1 <= days <= 90:
        raise Refused({"days": _("An invitation can last from 1 to 90 days.")})
    secret = secrets.token_urlsafe(32)
    invitation = Invitation(
        role=role,
        note=note,
        digest=digest(secret),
        invited_by=by,
        expires_at=timezone.now() + timedelta(days=days),
    )
    check(invitation).save()
    record_change(by=by, verb="invited", obj=invitation, after={"role": role, "note": note})
    return invitation, secret


@transaction.atomic
def offer_new_password(*, by: Person, person: Person) -> tuple[Invitation, str]:
    """A one-time link with which `person` sets a new password."""
    require(by, "people.change")
    secret = secrets.token_urlsafe(32)
    invitation = Invitation(
        purpose=Invitation.Purpose.RESET,
        role=person.role,
        person=person,
        digest=digest(secret),
        invited_by=by,
        expires_at=timezone.now() + timedelta(hours=RESET_HOURS),
    )
    check(invitation).save()
    record_change(by=by, verb="offered a new password", obj=person)
    return invitation, secret


@transaction.atomic
def withdraw_invitation(*, by: Person, invitation: Invitation) -> Invitation:
    require(by, "people.invite")
    invitation.withdrawn_at = timezone.now()
    invitation.save(update_fields=["withdrawn_at"])
    record_change(by=by, verb="withdrew an invitation", obj=invitation)
    return invitation


def open_invitation(secret: str) -> Invitation:
    """The invitation of an address, or Refused with the sentence that the visitor should read."""
    invitation = Invitation.objects.select_related("person").filter(digest=digest(secret)).first()
    if invitation is None:
        raise Refused(_("This link is not known. Ask the manager for a new one."))
    if invitation.used_at:
        raise Refused(_("This link has been used already. Log in, or ask the manager for a new one."))
    if invitation.withdrawn_at:
        raise Refused(_("This link was withdrawn. Ask the manager for a new one."))
    if invitation.expires_at <= timezone.now():
        raise Refused(_("This link has run out. Ask the manager for a new one."))
    return invitation


def _password_for(person: Person, password: str) -> None:
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise Refused({"password": list(error.messages)}) from error
    person.set_password(password)


@transaction.atomic
def accept_invitation(*, secret: str, username: str = "", name: str = "", password: str) -> Person:
    """Make the account of a joining link, or set the new password of a reset link. The link is spent."""
    invitation = open_invitation(secret)
    # Spent by a conditional UPDATE: of two browsers with one link only one joins.
    if not Invitation.objects.filter(pk=invitation.pk, used_at=None).update(used_at=timezone.now()):
        raise Refused(_("This link has been used already. Log in, or ask the manager for a new one."))
    if invitation.purpose == Invitation.Purpose.RESET:
        person = invitation.person
        assert person is not None
        _password_for(person, password)
        person.save(update_fields=["password"])
        record_change(by=person, verb="set a new password", obj=person)
        return person
    person = Person(username=username.strip(), name=name.strip(), role=invitation.role)
    _password_for(person, password)
    check(person).save()
    record_change(by=person, verb="joined", obj=person, after={"role": person.role})
    return person


@transaction.atomic
def create_first_manager(*, username: str, name: str, password: str) -> Person:
    """Setup's first account; refused when the studio already has a manager."""
    if Person.objects.filter(role=Role.MANAGER, is_active=True).exists():
        raise Refused(_("This studio already has a manager, who can invite others."))
    person = Person(username=username.strip(), name=name.strip(), role=Role.MANAGER)
    _password_for(person, password)
    check(person).save()
    record_change(by=None, verb="joined", obj=person, after={"role": person.role})
    return person


@transaction.atomic
def change_person(*, by: Person, person: Person, values: dict[str, Any], reason: str = "") -> Person:
    """Role or access of somebody. The last manager cannot be taken away."""
    require(by, "people.change")
    unknown = set(values) - {"role", "is_active", "name"}
    if unknown:
        raise Refused({f: _("This cannot be changed here.") for f in unknown})
    person = Person.objects.select_for_update().get(pk=person.pk)
    before = {f: getattr(person, f) for f in values}
    for field, value in values.items():
        setattr(person, field, value)
    check(person).save()
    if not Person.objects.filter(role=Role.MANAGER, is_active=True).exists():
        raise Refused(_("The studio would be left without a manager. Make somebody else manager first."))
    record_change(by=by, verb="changed", obj=person, before=before, after=values, reason=reason)
    return person


@transaction.atomic
def set_preferences(*, by: Person, name: str, temperature_unit: str, units: str) -> Person:
    """Somebody's own name and units on screen."""
    before = {"name": by.name, "temperature_unit": by.temperature_unit, "units": by.units}
    by.name, by.temperature_unit, by.units = name.strip(), temperature_unit, units
    check(by).save(update_fields=["name", "temperature_unit", "units"])
    after = {"name": by.name, "temperature_unit": by.temperature_unit, "units": by.units}
    record_change(by=by, verb="changed", obj=by, before=before, after=after)
    return by
