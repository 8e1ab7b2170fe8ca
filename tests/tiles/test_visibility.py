"""Who sees a tile: its maker and technicians, the studio, or the open wall (DESIGN, 'Visibility of a tile')."""

import pytest
from django.contrib.auth.models import AnonymousUser

from studio.roles import NotAllowed
from tests import make
from tiles.actions import change_tile, take_in_hand
from tiles.models import Tile

SEEN_BY = {  # visibility of another member's tile: who sees it
    "mine": {"maker", "technician", "manager"},
    "studio": {"maker", "technician", "manager", "member"},
    "open": {"maker", "technician", "manager", "member"},
}


@pytest.mark.parametrize("visibility", SEEN_BY)
def test_who_sees_a_tile(people, visibility):
    tile = make.tile(by=people["other"], visibility=visibility)
    leaver = make.person("technician", is_active=False)
    asked = {
        "maker": people["other"],
        **{r: people[r] for r in ("member", "technician", "manager")},
        "leaver": leaver,
        "visitor": AnonymousUser(),
    }
    seen = {who for who, person in asked.items() if tile in Tile.objects.visible_to(person)}
    assert seen == SEEN_BY[visibility]


def test_members_change_their_own_and_technicians_any(people):
    tile = make.tile(by=people["member"])
    assert tile in Tile.objects.editable_by(people["member"])
    assert tile in Tile.objects.editable_by(people["technician"])
    assert tile not in Tile.objects.editable_by(people["other"])
    change_tile(by=people["technician"], obj=tile, values={"remark": "glaze side up"})
    with pytest.raises(NotAllowed, match="somebody else"):
        change_tile(by=people["other"], obj=tile, values={"remark": "mine now"})
    with pytest.raises(NotAllowed):
        take_in_hand(by=people["other"], tile=tile)


@pytest.mark.parametrize(
    "method",
    ["get tile", "get tiles:log", "get tiles:tile-look", "get tiles:tile-edit", "post tiles:photo-add"],
)
def test_a_private_tile_is_not_there_for_others(people, client, method):
    from django.urls import reverse

    tile = make.tile(by=people["other"], visibility="mine")
    verb, name = method.split()
    client.force_login(people["member"])
    assert getattr(client, verb)(reverse(name, args=[tile.number])).status_code == 404
