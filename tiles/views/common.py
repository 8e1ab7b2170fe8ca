"""What every page about one tile begins with."""

from typing import Any

from django.http import Http404, HttpRequest

from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest
from studio.paging import page_of
from tiles.actions.tiles import require_edit
from tiles.models import Tile


def tile_for(request: PersonRequest, number: str, tiles: Any = None) -> Tile:
    """The tile of this number, in any case; what the person may not see is not there (404)."""
    rows: Any = Tile.objects.all() if tiles is None else tiles
    found = rows.visible_to(request.user).filter(number__iexact=number).first()
    if found is None:
        raise Http404
    return found


def own_tile(request: PersonRequest, number: str) -> Tile:
    """A tile that the person may change; NotAllowed says who may."""
    tile = tile_for(request, number, Tile.objects.select_related("body"))
    require_edit(request.user, tile)
    return tile


def page_or_way_back(request: HttpRequest, rows: Any, **how: Any) -> tuple[list, str | None, str | None]:
    """`page_of`; where the cursor is not one of ours, nothing and the way to the first page."""
    try:
        return page_of(request, rows, **how)
    except Refused:
        return [], None, request.path


def with_new_version(data: Any, conflict: VersionConflict) -> Any:
    """What was typed, under the version that it will meet when it is sent again."""
    data = data.copy()
    data["version"] = conflict.current
    return data
