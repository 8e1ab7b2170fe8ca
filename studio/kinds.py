"""The records of the place itself that have a history, and who may see it."""

from collections.abc import Callable
from typing import Any

from django.db.models import Model, QuerySet
from django.utils.translation import gettext_lazy as _

from studio.models import Invitation, Person, Station, Studio, Token
from studio.registry import register_kind
from studio.roles import may


def _where_may(model: type[Model], act: str, own: str = "") -> Callable[[Any], QuerySet]:
    """All records for whoever may do `act`; else those whose field `own` is the person, else none."""

    def visible(person: Any) -> QuerySet:
        rows: QuerySet = model._default_manager.all()
        if may(person, act):
            return rows
        return rows.filter(**{own: person.pk}) if own else rows.none()

    return visible


def register() -> None:
    register_kind(
        "studio.person", _("person"), _where_may(Person, "history.see_all", own="pk"), lambda obj: ""
    )
    register_kind(
        "studio.token", _("token"), _where_may(Token, "history.see_all", own="owner"), lambda obj: ""
    )
    register_kind("studio.station", _("station"), _where_may(Station, "history.see_all"), lambda obj: "")
    register_kind("studio.invitation", _("link"), _where_may(Invitation, "people.invite"), lambda obj: "")
    register_kind("studio.studio", _("studio"), _where_may(Studio, "studio.settings"), lambda obj: "")
