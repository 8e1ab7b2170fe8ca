"""Writes about people: joining, passwords, roles, leaving, preferences. Links are in invitations.py."""

from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions.history import check, record_change
from studio.errors import Refused
from studio.models import Invitation, Person, Studio
from studio.roles import Role, may, require, require_in_person


def set_password(person: Person, password: str, field: str = "password") -> None:
    """Put a good enough password on the unsaved `person`; Refused names what it lacks, under `field`."""
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise Refused({field: list(error.messages)}) from error
    person.set_password(password)


def add_person(*, username: str, name: str, role: str, password: str) -> Person:
    """The account itself. Whoever calls it (a joining link, `setup`) has checked that it may be made."""
    studio = Studio.current()
    person = Person(
        username=username.strip(),
        name=name.strip(),
        role=role,
        temperature_unit=studio.temperature_unit,
        units=studio.units,
    )
    if Person.objects.filter(username__iexact=person.username).exists():
        raise Refused({"username": _("This log-in name is taken. Choose another one.")})
    set_password(person, password)
    check(person).save(force_insert=True)
    record_change(by=person, verb="joined", obj=person, after={"role": person.role})
    return person


@transaction.atomic
def create_first_manager(*, username: str, name: str, password: str) -> Person:
    """Setup's first account; refused when the studio already has a manager."""
    if Person.objects.filter(role=Role.MANAGER, is_active=True).exists():
        raise Refused(_("This studio already has a manager, who can invite others."))
    return add_person(username=username, name=name, role=Role.MANAGER, password=password)


def locked(person: Person) -> Person:
    """The person as stored, with all managers: two who take each other's role at once must queue."""
    list(Person.objects.select_for_update().filter(role=Role.MANAGER).order_by("pk"))
    return Person.objects.select_for_update().get(pk=person.pk)


@transaction.atomic
def change_person(*, by: Person, person: Person, values: dict[str, Any], reason: str = "") -> Person:
    """Role, access or name of somebody. The last manager cannot be taken away."""
    require(by, "people.change")
    unknown = set(values) - {"role", "is_active", "name"}
    if unknown:
        raise Refused({f: _("This cannot be changed here.") for f in unknown})
    person = locked(person)
    if person.former_number is not None:
        raise Refused(_("This person was forgotten by name. Invite them anew if they come back."))
    before = {f: getattr(person, f) for f in values}
    for field, value in values.items():
        setattr(person, field, value)
    check(person).save(update_fields=list(values))
    if not Person.objects.filter(role=Role.MANAGER, is_active=True).exists():
        raise Refused(_("The studio would be left without a manager. Make somebody else manager first."))
    if not may(person, "people.invite"):
        # A manager who leaves must not come back through a link of their own.
        Invitation.objects.filter(invited_by=person, used_at=None, withdrawn_at=None).update(
            withdrawn_at=timezone.now()
        )
    differs = [f for f in values if before[f] != getattr(person, f)]
    if differs:
        record_change(
            by=by,
            verb="changed",
            obj=person,
            before={f: before[f] for f in differs},
            after={f: getattr(person, f) for f in differs},
            reason=reason,
        )
    return person


@transaction.atomic
def set_preferences(*, by: Person, name: str, temperature_unit: str, units: str) -> Person:
    """Somebody's own name and units on screen."""
    require_in_person(by)
    # A copy, so that a refused name does not stand in the frame of the page that refuses it.
    person = Person.objects.select_for_update().get(pk=by.pk)
    values = {"name": name.strip(), "temperature_unit": temperature_unit, "units": units}
    before = {f: getattr(person, f) for f in values}
    for field, value in values.items():
        setattr(person, field, value)
    check(person).save(update_fields=list(values))
    differs = [f for f in values if before[f] != values[f]]
    if differs:
        record_change(
            by=by,
            verb="changed",
            obj=person,
            before={f: before[f] for f in differs},
            after={f: values[f] for f in differs},
        )
    return person


@transaction.atomic
def change_own_password(*, by: Person, old: str, new: str) -> Person:
    """A new password for oneself, against the old one. It ends every other log-in of this person."""
    require_in_person(by)
    person = Person.objects.select_for_update().get(pk=by.pk)
    if not person.check_password(old):
        raise Refused({"old": _("This is not your password as it is now. Type it once more.")})
    set_password(person, new, field="new")
    person.save(update_fields=["password"])
    record_change(by=by, verb="set a new password", obj=person)
    return person
