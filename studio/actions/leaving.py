"""A leaver may be forgotten by name: 'former member 12', on every page and in the history."""

import re
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions.history import record_change
from studio.errors import Refused
from studio.models import Change, Invitation, Person, Pin, Token
from studio.roles import Role, require


def former_name(number: int) -> str:
    return _("former member %(number)s") % {"number": number}


def known_names(person: Person) -> set[str]:
    """The name, the log-in name, and every name that the history says the person had."""
    names = {person.name, person.username}
    own = Change.objects.filter(kind="studio.person", object_id=person.pk)
    for change in own:
        names |= {
            state.get("name") for state in (change.before, change.after) if isinstance(state.get("name"), str)
        }
        names.add(change.object_text)
    names |= set(Change.objects.filter(actor=person).values_list("actor_name", flat=True))
    return {name for name in names if name and len(name) > 1}


def _forget_in(value: Any, names: re.Pattern[str], new: str) -> Any:
    if isinstance(value, str):
        return names.sub(new, value)
    if isinstance(value, list):
        return [_forget_in(item, names, new) for item in value]
    if isinstance(value, dict):
        return {key: _forget_in(item, names, new) for key, item in value.items()}
    return value


@transaction.atomic
def make_former(*, by: Person, person: Person) -> Person:
    """Close the account and take the name off everything. The tiles, layers and entries stay, under the new name.

    This cannot be undone: the name is kept nowhere. Names inside remarks that others wrote are theirs and stay.
    """
    require(by, "people.change")
    if person.pk == by.pk:
        raise Refused(_("Let another manager do this for you."))
    # All managers are locked, so that two of them cannot forget each other at once.
    list(Person.objects.select_for_update().filter(role=Role.MANAGER).order_by("pk"))
    person = Person.objects.select_for_update().get(pk=person.pk)
    if person.former_number is not None:
        raise Refused(_("This person is forgotten already."))
    if not Person.objects.filter(role=Role.MANAGER, is_active=True).exclude(pk=person.pk).exists():
        raise Refused(_("The studio would be left without a manager. Make somebody else manager first."))
    names = known_names(person)
    number = (Person.objects.aggregate(last=Max("former_number"))["last"] or 0) + 1
    new = former_name(number)
    person.name, person.username, person.former_number = new, f"former-{number}", number
    person.is_active, person.role = False, Role.MEMBER
    person.set_unusable_password()
    person.save()
    Pin.objects.filter(person=person).delete()
    for token in Token.objects.filter(owner=person):
        token.name, token.revoked_at = new, token.revoked_at or timezone.now()
        token.save(update_fields=["name", "revoked_at"])
    pattern = re.compile(
        r"(?<!\w)(?:" + "|".join(map(re.escape, sorted(names, key=len, reverse=True))) + r")(?!\w)"
    )
    for invitation in Invitation.objects.exclude(note=""):
        if (forgotten := pattern.sub(new, invitation.note)) != invitation.note:
            Invitation.objects.filter(pk=invitation.pk).update(note=forgotten[:120])
    _rewrite_history(person, pattern, new)
    record_change(by=by, verb="forgot the name", obj=person)
    return person


def _rewrite_history(person: Person, names: re.Pattern[str], new: str) -> None:
    """The one place where history rows are changed: who did it stays, the name goes."""
    Change.objects.filter(actor=person).update(actor_name=new)
    for row in Change.objects.iterator(chunk_size=500):
        said = {f: getattr(row, f) for f in ("actor_name", "via", "object_text", "before", "after", "reason")}
        told = {f: _forget_in(value, names, new) for f, value in said.items()}
        if told != said:
            Change.objects.filter(pk=row.pk).update(**told)
