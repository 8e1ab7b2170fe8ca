"""Photos: added, looked at, archived, and streamed after the permission check of their tile."""

import logging
import uuid

from django.contrib import messages
from django.core.files.storage import storages
from django.http import FileResponse, Http404, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from studio import photos
from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from studio.photo_answers import sized_answer
from studio.stations import part_of_an_entry
from tiles.actions import add_photo, archive_photo, may_edit
from tiles.actions.photos import may_have_original, require_original
from tiles.forms.photo import PhotoForm
from tiles.models import Photo, Tile
from tiles.views import log
from tiles.views.common import tile_for

logger = logging.getLogger(__name__)


def photo_for(request: PersonRequest, pk: uuid.UUID) -> Photo:
    """A photo of a tile that the person may see; an archived one only for who may change the tile."""
    seen = Photo.objects.select_related("tile", "by", "outcome").filter(
        tile__in=Tile.objects.visible_to(request.user)
    )
    found = seen.filter(pk=pk).first()
    if found is None or (found.archived_at and not may_edit(request.user, found.tile)):
        raise Http404
    return found


@part_of_an_entry
@require_POST
@needs("tile.log")
def add(request: PersonRequest, number: str) -> HttpResponse:
    """From the logging page and from the tile's own; a refused file comes back to where it was sent from."""
    tile = tile_for(request, number)
    form = PhotoForm(request.POST, request.FILES)
    is_logging = request.POST.get("back") == "log" and may_edit(request.user, tile)
    if form.is_valid():
        try:
            add_photo(
                by=request.user,
                tile=tile,
                file=form.chosen_photo,
                caption=form.cleaned_data["caption"],
                stage=form.cleaned_data["stage"],
            )
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("The photo is kept."))
            return redirect("tiles:log" if is_logging else "tile", number=tile.number)
    if is_logging:
        return log.show(request, tile, photo=form)
    return render(request, "tiles/photo_add.html", {"tile": tile, "photo_form": form})


@require_safe
def page(request: PersonRequest, photo: uuid.UUID) -> HttpResponse:
    found = photo_for(request, photo)
    context = {"photo": found, "tile": found.tile, "may_edit": may_edit(request.user, found.tile)}
    context["may_have_original"] = may_have_original(request.user, found)
    return render(request, "tiles/photo.html", context)


@require_safe
def sized(request: PersonRequest, photo: uuid.UUID, size: str) -> HttpResponseBase:
    return sized_answer(request, photo_for(request, photo).key, size)


@require_safe
def original(request: PersonRequest, photo: uuid.UUID) -> HttpResponseBase:
    """The file as it was sent, for the few who may have it."""
    found = photo_for(request, photo)
    require_original(request.user, found)
    name = f"tile-{found.tile.number}.{photos.keeping.EXTENSIONS[found.kind]}"
    file = _opened(photos.open_original, found.key, found.kind)
    response = FileResponse(file, as_attachment=True, filename=name, content_type="application/octet-stream")
    response["Cache-Control"] = "private, no-store"
    response["X-Content-Type-Options"] = "nosniff"
    return response


def _opened(open_it, key: str, what: str):
    try:
        return open_it(storages["photos"], key, what)
    except FileNotFoundError:
        logger.error("The file %s of photo %s is missing from the storage", what, key)
        raise Http404 from None


@require_POST
@needs("tile.log")
def archive(request: PersonRequest, photo: uuid.UUID) -> HttpResponse:
    found = photo_for(request, photo)
    archive_photo(by=request.user, photo=found, reason=request.POST.get("reason", ""))
    messages.success(request, _("The photo is off the page. Its file is kept."))
    return redirect("tile", number=found.tile.number)
