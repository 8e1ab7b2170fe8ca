"""Writes about tokens: keys for programs and devices."""

import secrets
from datetime import timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions.history import check, record_change
from studio.actions.invitations import digest
from studio.errors import Refused
from studio.models import Person, Token
from studio.roles import NotAllowed, Role, require, require_in_person

PREFIX = "tilekeep"


@transaction.atomic
def issue_token(
    *, by: Person, name: str, scope: str = Token.Scope.READ, kind: str = Token.Kind.PERSON, days: int = 90
) -> tuple[Token, str]:
    """A new key. Returns the token and the whole key, `tilekeep_<lookup>_<secret>`, which is shown once."""
    require_in_person(by)
    require(by, "token.device" if kind == Token.Kind.DEVICE else "token.own")
    if not 1 <= days <= 730:
        raise Refused({"days": _("A token can last from 1 to 730 days.")})
    lookup, secret = secrets.token_hex(5), secrets.token_hex(32)
    token = Token(
        owner=by,
        kind=kind,
        name=name.strip(),
        scope=scope,
        lookup=lookup,
        digest=digest(secret),
        expires_at=timezone.now() + timedelta(days=days),
    )
    check(token).save()
    record_change(by=by, verb="issued a token", obj=token, after={"kind": kind, "scope": scope, "days": days})
    return token, f"{PREFIX}_{lookup}_{secret}"


@transaction.atomic
def revoke_token(*, by: Person, token: Token) -> Token:
    """End a token at once: its owner, or a manager."""
    require_in_person(by)
    if token.owner_id != by.pk:
        require(by, "people.change")
    if token.revoked_at is None:
        token.revoked_at = timezone.now()
        token.save(update_fields=["revoked_at"])
        record_change(by=by, verb="revoked a token", obj=token)
    return token


def person_of_key(key: str) -> tuple[Person, Token] | None:
    """The person that a key acts for, told by `acting_role`, `acts_as_device` and `acting_via`; None for a bad key."""
    parts = key.split("_")
    if len(parts) != 3 or parts[0] != PREFIX:
        return None
    token = Token.objects.select_related("owner").filter(lookup=parts[1]).first()
    if token is None or not secrets.compare_digest(token.digest, digest(parts[2])):
        return None
    if not token.in_force or not token.owner.is_active:
        return None
    now = timezone.now()
    # Once a minute is exact enough for 'last used', and spares a write on every read.
    if token.last_used_at is None or now - token.last_used_at > timedelta(minutes=1):
        Token.objects.filter(pk=token.pk).update(last_used_at=now)
    person = token.owner
    person.acting_via = token.name  # type: ignore[attr-defined]
    if token.kind == Token.Kind.DEVICE:
        person.acting_role = Role.MEMBER  # type: ignore[attr-defined]
        person.acts_as_device = True  # type: ignore[attr-defined]
    return person, token


def require_write_scope(token: Token | None) -> None:
    if token is not None and token.scope != Token.Scope.WRITE:
        raise NotAllowed(_("This token may only read. Use one that may write."))
