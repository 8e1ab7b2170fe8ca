"""Writes about saved searches."""

import uuid
from types import SimpleNamespace
from typing import Any

from django.db import transaction
from django.http import QueryDict
from django.utils.translation import gettext as _

from studio.actions import change, create, put_away, touch
from studio.errors import Refused
from studio.filtering import filtered
from studio.models import Person
from studio.roles import NotAllowed, is_device, may, require, require_in_person
from tiles.filters_wall import WallFilter
from tiles.forms.wall import plain_query
from tiles.models import SavedSearch, Tile

FIELDS = ("name", "query", "is_shared")


def may_keep(by: Any, search: SavedSearch) -> bool:
    """Its owner; and a technician what is shared, so that a leaver's do not hang on the wall for ever."""
    if is_device(by):
        return False
    return search.person_id == by.pk or (search.is_shared and may(by, "tile.change_any"))


def _require_keeper(by: Person, search: SavedSearch) -> None:
    require(by, "search.keep")
    if is_device(by):
        require_in_person(by)
    if not may_keep(by, search):
        raise NotAllowed(
            _("Only who saved this search, or a technician, can change it. Save it for yourself.")
        )


def _understood(query: str, by: Person) -> str:
    """The query string as the wall's address holds it; refused where the wall cannot be asked so."""
    asked = QueryDict(query.removeprefix("?"))
    seen_by: Any = SimpleNamespace(user=by)
    _set, _rows, problems = filtered(WallFilter, asked, Tile.objects.none(), seen_by)
    if problems:
        raise Refused({"query": [f"{name}: {' '.join(said)}" for name, said in problems.items()]})
    plain = plain_query(asked)
    if not plain:
        raise Refused({"query": _("Search for something first: the whole wall needs no name.")})
    return plain


@transaction.atomic
def save_search(
    *, by: Person, name: str, query: str, is_shared: bool = False, id: uuid.UUID | None = None
) -> SavedSearch:
    require(by, "search.keep")
    if is_device(by):
        require_in_person(by)
    search = SavedSearch(
        **({"id": id} if id else {}),
        person=by,
        name=name.strip(),
        query=_understood(query, by),
        is_shared=is_shared,
    )
    return create(by=by, obj=search, fields=FIELDS)


@transaction.atomic
def change_search(
    *, by: Person, obj: SavedSearch, values: dict[str, Any], version: int | None = None
) -> SavedSearch:
    """Another name or another search under it; shared or not is its owner's word."""
    _require_keeper(by, obj)
    if obj.person_id != by.pk and values.get("is_shared", True) is not True:
        raise NotAllowed(
            _("Only who saved this search can take it back for themselves. Put it away instead.")
        )
    # One that stands already may name what has gone since: it can still be renamed and shared no more.
    if "query" in values and values["query"] != obj.query:
        values = {**values, "query": _understood(values["query"], by)}
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def archive_search(
    *, by: Person, obj: SavedSearch, version: int | None = None, reason: str = ""
) -> SavedSearch:
    """Put it away. It leaves the wall; its history stays."""
    _require_keeper(by, obj)
    touch(obj, version)
    return put_away(by=by, obj=obj, reason=reason)
