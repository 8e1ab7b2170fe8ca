"""A leaver may be forgotten by name: 'former member 12', on every page and in the history."""

from functools import cache
from typing import Any

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.apps import apps
from django.contrib.sessions.models import Session
from django.core.exceptions import FieldDoesNotExist
from django.db import models, transaction
from django.db.models import F, Max
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions.history import record_change
from studio.actions.people import locked
from studio.backups import kept_models
from studio.errors import Refused
from studio.forgetting import Names
from studio.models import Change, IdempotencyRecord, Invitation, Person, Pin, Studio, Token
from studio.roles import Role, require
from studio.stations import VISIT

# What people write freely, by the names of its fields; all other texts are names of things, codes and measures.
FREE = {
    "remark",
    "note",
    "text",
    "reason",
    "why",
    "caption",
    "words",
    "ended_why",
    "outcome_note",
    "taken_back_why",
    "override_reason",
    "done",
    "seen",
    "change",  # what a trial of a remedy alters
    "what",  # members' ware, as a row of the history names it
    "device",
}
LEFT_ALONE = (
    Change,
    Person,
    Studio,
)  # the first two have rules of their own; the studio's name is the studio's
MATERIAL = {"password", "hash", "digest", "lookup", "secret", "key", "sha256"}


def former_name(number: int) -> str:
    return _("former member %(number)s") % {"number": number}


def known_names(person: Person) -> set[str]:
    """The name, the log-in name, and every name that the history says the person had."""
    names = {person.name, person.username}
    for change in Change.objects.filter(kind="studio.person", object_id=person.pk):
        said = [state.get(name) for state in (change.before, change.after) for name in ("name", "username")]
        names |= {name for name in said if isinstance(name, str)} | {change.object_text}
    names |= set(Change.objects.filter(actor=person).values_list("actor_name", flat=True))
    return {name for name in names if name.strip()}


@transaction.atomic
def make_former(*, by: Person, person: Person) -> Person:
    """Close the account and take the name off everything. Tiles, layers, entries and jars stay, under the new name.

    This cannot be undone: the name is kept nowhere. Which words go is said in `studio.forgetting.Names`. Private
    tiles stay private, so only technicians see them from now on.
    """
    require(by, "people.change")
    if person.pk == by.pk:
        raise Refused(_("Let another manager do this for you."))
    person = locked(person)
    if person.former_number is not None:
        raise Refused(_("This person is forgotten already."))
    if not Person.objects.filter(role=Role.MANAGER, is_active=True).exclude(pk=person.pk).exists():
        raise Refused(_("The studio would be left without a manager. Make somebody else manager first."))
    known, old_username = known_names(person), person.username
    number = (Person.objects.aggregate(last=Max("former_number"))["last"] or 0) + 1
    while Person.objects.filter(username__iexact=f"former-{number}").exists():
        number += 1
    names = Names(known, former_name(number))
    person.name, person.username, person.former_number = names.new, f"former-{number}", number
    person.is_active, person.role = False, Role.MEMBER
    person.set_unusable_password()
    person.save()
    _close_the_ways_in(person, old_username)
    _rewrite_history(person, names)
    Token.objects.filter(owner=person).update(name=names.new)
    for model in kept_models():
        if model not in LEFT_ALONE:
            _rewrite(model, names)
    _rewrite_answers(person, names)
    record_change(by=by, verb="forgot the name", obj=person)
    return person


def _close_the_ways_in(person: Person, username: str) -> None:
    """PIN, tokens, links, log-ins that go on, and what the lock-out noted of the log-in name."""
    now = timezone.now()
    Pin.objects.filter(person=person).delete()
    Token.objects.filter(owner=person, revoked_at=None).update(revoked_at=now)
    open_links = Invitation.objects.filter(used_at=None, withdrawn_at=None)
    open_links.filter(models.Q(person=person) | models.Q(invited_by=person)).update(withdrawn_at=now)
    for attempts in (AccessAttempt, AccessFailureLog, AccessLog):
        attempts.objects.filter(username__iexact=username).delete()
    for session in Session.objects.iterator(chunk_size=500):
        data = session.get_decoded()
        if str(person.pk) in (data.get("_auth_user_id"), data.get(VISIT, {}).get("person")):
            session.delete()


def _rewrite(model: type[models.Model], names: Names) -> None:
    """The live records: names of things lose the full name only, free texts whatever is the person's."""
    kinds = (models.CharField, models.TextField, models.JSONField)
    fields: list[Any] = [
        f for f in model._meta.fields if isinstance(f, kinds) and not f.choices and f.name not in MATERIAL
    ]
    if not fields:
        return
    for row in model._base_manager.values("pk", *(f.name for f in fields)).iterator(chunk_size=500):
        told = {f.name: _told(f, row[f.name], names) for f in fields}
        differs: dict[str, Any] = {name: value for name, value in told.items() if value != row[name]}
        if differs and any(f.name == "version" for f in model._meta.fields):
            differs["version"] = F("version") + 1
        if differs:
            model._base_manager.filter(pk=row["pk"]).update(**differs)


def _told(field: Any, value: Any, names: Names) -> Any:
    if not isinstance(value, str):
        return names.in_data(value)
    free = field.name in FREE or isinstance(field, models.TextField)
    told = names.in_words(value) if free else names.in_a_name(value)
    return told[: field.max_length] if told != value and field.max_length else told


def _rewrite_history(person: Person, names: Names) -> None:
    """The one place where history rows are changed: who did it stays, the name goes."""
    tokens = dict(Token.objects.filter(owner=person).values_list("pk", "name"))
    for row in Change.objects.iterator(chunk_size=500):
        about_it = (row.kind == "studio.person" and row.object_id == person.pk) or row.object_id in tokens
        is_own = row.actor_id == person.pk
        told = {
            "actor_name": names.new if is_own else names.in_a_name(row.actor_name),
            "via": names.new if is_own and row.via in tokens.values() else names.in_a_name(row.via),
            "object_text": names.new if about_it else _object_text(row, names)[:200],
            "reason": names.in_words(row.reason),
            "before": _state(row.kind, row.before, names, about_it),
            "after": _state(row.kind, row.after, names, about_it),
        }
        if any(getattr(row, name) != value for name, value in told.items()):
            Change.objects.filter(pk=row.pk).update(**told)


def _object_text(row: Change, names: Names) -> str:
    """A link is called by the note of whom it is for; everything else by the name of a thing."""
    free = row.kind == "studio.invitation"
    return names.in_words(row.object_text) if free else names.in_a_name(row.object_text)


def _state(kind: str, state: dict[str, Any], names: Names, about_it: bool) -> dict[str, Any]:
    """What a history row says of each field: a person, a free text, or something else."""
    told = {}
    for key, value in state.items():
        is_persons = key in FREE or _names_a_person(kind, key) or (about_it and key in ("name", "username"))
        told[key] = names.in_words(value) if is_persons and isinstance(value, str) else names.in_data(value)
    return told


def _names_a_person(kind: str, key: str) -> bool:
    try:
        return apps.get_model(kind)._meta.get_field(key).related_model is Person
    except (LookupError, ValueError, FieldDoesNotExist):
        # A value of a part, or of a record that an earlier version had.
        return key in _people_fields()


@cache
def _people_fields() -> set[str]:
    return {f.name for model in kept_models() for f in model._meta.fields if f.related_model is Person}


def _rewrite_answers(person: Person, names: Names) -> None:
    """The answers that are kept for a program's second try."""
    IdempotencyRecord.objects.filter(person=person).delete()
    for kept in IdempotencyRecord.objects.iterator(chunk_size=500):
        told = names.in_data(kept.body, str(person.pk))
        if told != kept.body:
            IdempotencyRecord.objects.filter(pk=kept.pk).update(body=told)
