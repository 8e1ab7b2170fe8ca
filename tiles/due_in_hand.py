"""What a person is in the middle of: tiles in hand, looks begun, photos that are on no tile yet."""

from typing import Any

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l
from django.utils.translation import ngettext

from studio.registry import Due, DueGroup
from tiles.actions.unloading import FIRING
from tiles.cards import card
from tiles.models import Firing, LookDraft, LoosePhoto, SetInHand, Tile, TileInHand


def in_hand_of(person: Any, most: int) -> DueGroup:
    """The tile in hand, the set in hand, and looks that are begun and not kept."""
    begun = LookDraft.objects.filter(person=person.pk).order_by("-touched_at")
    drafts = list(begun[:most])
    held = TileInHand.objects.filter(person=person.pk).values_list("tile", flat=True).first()
    together = list(
        SetInHand.tiles.through.objects.filter(setinhand__person=person.pk)
        .order_by("tile__number")
        .values_list("tile", flat=True)
    )
    wanted = {draft.tile_id for draft in drafts} | {held} | set(together[:1])
    tiles = {tile.pk: tile for tile in Tile.objects.visible_to(person).for_the_wall().filter(pk__in=wanted)}
    firings = Firing.objects.in_bulk([key for draft in drafts for key in draft.data.get(FIRING, [])])
    items = []
    if held in tiles:
        items.append(_tile(tiles[held], reverse("tiles:log", args=[tiles[held].number]), _("in hand")))
    if together and together[0] in tiles:
        n = len(together)
        words = ngettext("a set of %(n)s tile", "a set of %(n)s tiles", n) % {"n": n}
        items.append(_tile(tiles[together[0]], reverse("tiles:log-set"), words))
    for draft in drafts:
        if tile := tiles.get(draft.tile_id):
            items.append(_tile(tile, _page_of(draft, tile, firings), _("look begun")))
    count = len(items) + begun.count() - len(drafts)
    return DueGroup("hand", 10, _l("In hand"), _l("carry on"), "tiles/_due_tile.html", count, items[:most])


def _page_of(draft: LookDraft, tile: Tile, firings: dict[Any, Firing]) -> str:
    """Where the look was begun."""
    known = {str(key): firing for key, firing in firings.items()}
    for key in draft.data.get(FIRING, []):
        if key in known:
            return reverse("tiles:unload-tile", args=[known[key].number, tile.number])
    return reverse("tiles:tile-look", args=[tile.number])


def _tile(tile: Tile, url: str, words: str) -> Due:
    return Due("tiles.tile", tile.pk, tile.number, words, url, True, {"card": card(tile)})


def unsorted_of(person: Any, most: int) -> DueGroup:
    """The person's own photos of an unloading that are on no tile."""
    rows: Any = LoosePhoto.objects.visible_to(person).unsorted().filter(by=person.pk)
    items = [
        Due(
            kind="tiles.loosephoto",
            id=photo.pk,
            name=str(photo.firing),
            words=_("on no tile yet"),
            url=reverse("tiles:loose", args=[photo.firing.number]),
            is_mine=True,
            values={"photo_url": reverse("tiles:loose-sized", args=[photo.pk, "small"])},
        )
        for photo in rows.select_related("firing").order_by("created_at", "id")[:most]
    ]
    return DueGroup(
        "photos", 20, _l("Photos to sort"), _l("pick its tile"), "tiles/_due_photo.html", rows.count(), items
    )
