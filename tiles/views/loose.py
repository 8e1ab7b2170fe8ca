"""Many photos of an unloading at once, then one after another to the tile that it shows."""

import uuid

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.errors import Refused
from studio.pages import PersonRequest, needs
from studio.photo_answers import sized_answer
from studio.stations import part_of_an_entry
from tiles.actions.loose import Taken, add_loose_photos, drop_loose_photo, pick_photo, unpick_photo
from tiles.forms.loose import LoosePhotosForm
from tiles.models import Firing, LoosePhoto
from tiles.unloading import is_unloadable, stops
from tiles.views.firings import find


def loose_for(request: PersonRequest, pk: uuid.UUID) -> LoosePhoto:
    seen = LoosePhoto.objects.visible_to(request.user).select_related("firing__kiln", "photo__tile", "by")
    found = seen.filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def many(request: PersonRequest, number: int) -> HttpResponse:
    """Choose the photos; the next one that is unsorted comes up with the firing's tiles to pick from."""
    firing = find(number)
    if not is_unloadable(firing):
        messages.error(request, _("Photos are sorted to the tiles of a glaze firing that is unloaded."))
        return redirect(firing)
    form = LoosePhotosForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        _say(request, add_loose_photos(by=request.user, firing=firing, files=form.cleaned_data["photos"]))
        return redirect("tiles:loose", number=number)
    mine = firing.loose_photos.visible_to(request.user)
    unsorted = list(mine.unsorted().select_related("by"))
    last = request.session.get(_last(firing))
    context = {
        "firing": firing,
        "form": form,
        "loose": unsorted[0] if unsorted else None,
        "left": len(unsorted),
        "sorted": mine.filter(archived_at=None).count() - len(unsorted),
        "stops": _with_counts(request, firing),
        "last": mine.filter(pk=last, photo__archived_at=None, photo__isnull=False).first() if last else None,
    }
    return render(request, "tiles/loose.html", context)


def _with_counts(request: PersonRequest, firing: Firing) -> list[tuple[str, int]]:
    """The numbers to pick from, and how many photos each tile has out of this unloading."""
    counts: dict[str, int] = {}
    for number in firing.loose_photos.filter(photo__archived_at=None).values_list(
        "photo__tile__number", flat=True
    ):
        counts[number] = counts.get(number, 0) + 1
    return [(s.tile.number, counts.get(s.tile.number, 0)) for s in stops(firing, request.user)]


def _say(request: PersonRequest, taken: Taken) -> None:
    if taken.kept and "one_by_one" not in request.POST:
        words = ngettext("%(n)s photo is kept.", "%(n)s photos are kept.", len(taken.kept))
        messages.success(request, words % {"n": len(taken.kept)})
    if taken.known:
        words = ngettext(
            "%(n)s photo was here already and is kept once.",
            "%(n)s photos were here already and are kept once.",
            taken.known,
        )
        messages.warning(request, words % {"n": taken.known})
    for name, sentence in taken.refused:
        messages.error(request, _("“%(name)s”: %(why)s") % {"name": name, "why": sentence})


@part_of_an_entry
@require_POST
@needs("tile.log")
def pick(request: PersonRequest, photo: uuid.UUID) -> HttpResponse:
    loose = loose_for(request, photo)
    sent = request.POST.get("tile", "").strip().casefold()
    tiles = {s.tile.number.casefold(): s.tile for s in stops(loose.firing, request.user)}
    if sent not in tiles:
        messages.error(request, _("No tile of this firing has this number. Pick one of those shown."))
        return _back(loose)
    try:
        pick_photo(by=request.user, loose=loose, tile=tiles[sent])
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        request.session[_last(loose.firing)] = str(loose.pk)
    return _back(loose)


@part_of_an_entry
@require_POST
@needs("tile.log")
def undo(request: PersonRequest, photo: uuid.UUID) -> HttpResponse:
    """Take the last pick back."""
    loose = loose_for(request, photo)
    try:
        unpick_photo(by=request.user, loose=loose)
    except Refused as refused:
        messages.error(request, str(refused))
    return _back(loose)


@part_of_an_entry
@require_POST
@needs("tile.log")
def drop(request: PersonRequest, photo: uuid.UUID) -> HttpResponse:
    loose = loose_for(request, photo)
    try:
        drop_loose_photo(by=request.user, loose=loose)
        messages.success(request, _("The photo is left out. Its file is kept."))
    except Refused as refused:
        messages.error(request, str(refused))
    return _back(loose)


@require_safe
@needs("tile.log")
def sized(request: PersonRequest, photo: uuid.UUID, size: str) -> HttpResponseBase:
    return sized_answer(request, loose_for(request, photo).key, size)


def _last(firing: Firing) -> str:
    return f"last_pick_{firing.number}"


def _back(loose: LoosePhoto) -> HttpResponse:
    return redirect("tiles:loose", number=loose.firing.number)
