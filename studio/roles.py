"""Who may do what: the one table, used by views, API, templates and actions alike."""

from django.core.exceptions import PermissionDenied
from django.db import models
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy


class Role(models.TextChoices):
    """A guest has no account; the other three are what a person can be."""

    GUEST = "guest", gettext_lazy("guest")
    MEMBER = "member", gettext_lazy("member")
    TECHNICIAN = "technician", gettext_lazy("technician")
    MANAGER = "manager", gettext_lazy("manager")


PERSON_ROLES = [Role.MEMBER, Role.TECHNICIAN, Role.MANAGER]

_EVERY_MEMBER = {Role.MEMBER, Role.TECHNICIAN, Role.MANAGER}
_TECHNICIANS = {Role.TECHNICIAN, Role.MANAGER}
_MANAGERS = {Role.MANAGER}

TABLE: dict[str, set[Role]] = {
    "studio.see": _EVERY_MEMBER,
    "studio.settings": _MANAGERS,
    "history.see_all": _TECHNICIANS,
    "people.see": _EVERY_MEMBER,
    "people.invite": _MANAGERS,
    "people.change": _MANAGERS,
    "token.own": _EVERY_MEMBER,
    "token.device": _TECHNICIANS,
    "glaze.change": _TECHNICIANS,
    "bucket.change": _TECHNICIANS,
    "fill.change": _TECHNICIANS,
    "fill.own_jar": _EVERY_MEMBER,
    "reading.add": _EVERY_MEMBER,
    "stock.add": _EVERY_MEMBER,
    "round.walk": _EVERY_MEMBER,
    "class.make": _EVERY_MEMBER,
    "class.change_any": _TECHNICIANS,
    "station.set_up": _TECHNICIANS,
    "flag.raise": _EVERY_MEMBER,
    "flag.withdraw_own": _EVERY_MEMBER,
    "flag.clear": _TECHNICIANS,
    "place.change": _TECHNICIANS,
    "body.change": _TECHNICIANS,
    "kiln.change": _TECHNICIANS,
    "firing.change": _TECHNICIANS,
    "firing.load": _EVERY_MEMBER,
    "firing.log": _EVERY_MEMBER,
    "schedule.change": _TECHNICIANS,
    "tile.log": _EVERY_MEMBER,
    "tile.hang": _EVERY_MEMBER,
    "piece.load": _EVERY_MEMBER,
    "tile.change_any": _TECHNICIANS,
    "tile.see_private": _TECHNICIANS,
    "substance.note": _EVERY_MEMBER,
    "laboratory.note": _TECHNICIANS,
    "home_trial.note": _EVERY_MEMBER,
    "mark.set": _TECHNICIANS,
    "cause.change": _TECHNICIANS,
    "remedy.plan": _EVERY_MEMBER,
    "combination.remark": _EVERY_MEMBER,
    "search.keep": _EVERY_MEMBER,
}


class NotAllowed(PermissionDenied):
    """The role does not reach. `str()` is the sentence that is shown."""


def role_of(person) -> Role:
    """A guest has no account (or a closed one); a device acts with its token's role."""
    if person is None or not getattr(person, "is_authenticated", False) or not person.is_active:
        return Role.GUEST
    return Role(getattr(person, "acting_role", "") or person.role)


def may(person, act: str) -> bool:
    """Whether `person` may do `act`; an act that is not in the table is a programming error (KeyError)."""
    return role_of(person) in TABLE[act]


def require(person, act: str) -> None:
    """Raise NotAllowed with a sentence that says who may."""
    if may(person, act):
        return
    allowed = [str(role.label) for role in Role if role in TABLE[act]]
    raise NotAllowed(
        _("Your role does not reach here. This can be done by: %(roles)s. Ask one of them.")
        % {"roles": ", ".join(allowed)}
    )


def require_in_person(person) -> None:
    """A device acts for the studio, so its owner's account and keys are none of its business."""
    if getattr(person, "acting_role", ""):
        raise NotAllowed(_("A device cannot do this for its owner. Log in, or use a token of your own."))


def is_device(person) -> bool:
    """A device token acts for the studio, not for its owner: what is private to the owner is not the device's.

    Somebody who stepped up at a station is there in person, though with a member's rights.
    """
    return bool(getattr(person, "acts_as_device", False))


class May:
    """For templates: `{% if may.flag_clear %}` asks the table for `flag.clear`."""

    def __init__(self, person) -> None:
        self._person = person

    def __getitem__(self, name: str) -> bool:
        return may(self._person, name.replace("_", ".", 1))
