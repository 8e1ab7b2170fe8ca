"""Today: what needs somebody, each thing once, one's own first, and nothing that is not due."""

import itertools
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Fill, Reading
from studio.today import MOST, SHOWN, due_for
from tests import make
from tests.api_calls import ApiWorld, picture
from tests.reading import text_of
from tests.tiles.counting import queries
from tests.tiles.kiln_history import cooling as a_cooling_log
from tiles import actions as wall
from tiles.actions.loose import add_loose_photo
from tiles.actions.sets import take_set
from tiles.actions.unloading import keep_draft
from tiles.models import Firing

names = itertools.count(1)


@pytest.fixture
def world(db, settings):
    settings.PUBLIC_URL = "https://clay.example"
    return ApiWorld()


def kinds(person, **asked):
    return {group.kind: group.count for group in due_for(person, **asked)}


def named(person, kind):
    return [item.name for group in due_for(person) if group.kind == kind for item in group.items]


def a_fill(world, sg="1.45", **fields):
    glaze = make.glaze(f"Weir {next(names)}", sg_low="1.40", sg_high="1.50")
    return make.fill(glaze, sg=sg, **fields)


def flagged(world, kind, **fields):
    fill = a_fill(world, **fields)
    shelf.raise_flag(by=world.member, fill=fill, kind=kind)
    return fill


def cooling(world):
    firing = make.firing()
    for state in ("firing", "cooling"):
        wall.move_firing(by=world.manager, firing=firing, state=state)
    return firing


def hot(world):
    """Cooling with a log that tells when it will have cooled."""
    return a_cooling_log(make.kiln())


def worn(world):
    kiln = make.kiln(elements_last=1)
    make.fire(make.firing(kiln), witness=[{"cone": make.cone("6"), "bend_degrees": 90}])


def unread(world, **fields):
    return make.fire(make.firing(**fields), witness=[{"cone": make.cone("6"), "bend_degrees": None}])


def read(world, **fields):
    return make.fire(make.firing(**fields), witness=[{"cone": make.cone("6"), "bend_degrees": 90}])


def waiting(world, by=None):
    """Out of a firing whose cones are read."""
    tile = make.tile(by=by or world.member, layers=[{"glaze": make.glaze()}])
    make.fire(make.firing(), tile, witness=[{"cone": make.cone("6"), "bend_degrees": 90}])
    return tile


def to_look_again(world, by=None):
    tile = waiting(world, by)
    out = timezone.now() - timedelta(weeks=5)
    Firing.objects.filter(tile_firings__tile=tile).update(unloaded_at=out)
    wall.record_outcome(by=tile.maker, tile=tile, surface="satin", looked_on=out.date() + timedelta(days=1))
    return tile


def begun(world):
    tile = waiting(world)
    wall.record_outcome(by=world.member, tile=tile, surface="satin")
    keep_draft(by=world.member, firing=Firing.objects.first(), tile=tile, data={"surface": ["dry"]})


def unsorted(world):
    add_loose_photo(by=world.member, firing=read(world), file=picture())


def printed_before(world):
    """A lid whose paper names what was in it before."""
    fill = a_fill(world)
    shelf.note_labels_printed(by=world.technician, buckets={fill.bucket: "Mill Red"})


DUE = {
    "labels": printed_before,
    "flagged": lambda w: flagged(w, "contaminated"),
    "dried": lambda w: flagged(w, "settled_hard"),
    "window": lambda w: a_fill(w, sg="1.62"),
    "low": lambda w: a_fill(w, level="quarter"),
    "stale": lambda w: a_fill(w, sg=None),
    "unload": cooling,
    "cooling": hot,
    "worn": worn,
    "cones": unread,
    "waiting": waiting,
    "looks": to_look_again,
    "hand": begun,
    "photos": unsorted,
}
SEEN_BY = {
    "technician": {
        "labels",
        "flagged",
        "dried",
        "window",
        "low",
        "stale",
        "unload",
        "cones",
        "waiting",
        "looks",
        "cooling",
        "worn",
    },
    "member": {"cooling", "stale", "waiting", "looks", "hand", "photos"},
}


def test_nothing_is_said_when_nothing_is_due(world, client):
    a_fill(world)
    read(world)
    flagged(world, "not_for_food")  # so it stays: nothing to be done today
    world.tile  # noqa: B018 - glazed, not fired
    client.force_login(world.technician)
    page = client.get("/")
    assert page.context["groups"] == []
    assert "Nothing needs you today." in text_of(page)


@pytest.mark.parametrize("kind", DUE)
def test_each_matter_is_told_to_whoever_sees_to_it(kind, world):
    DUE[kind](world)
    for role, seen in SEEN_BY.items():
        assert kinds(getattr(world, role)) == ({kind: 1} if kind in seen else {}), role


def test_all_at_once_in_the_same_queries_however_much_is_due(world, client):
    counted = {}
    for n in (3, 9):
        for make_one in DUE.values():
            for _i in range(n):
                make_one(world)
        for whose in ("technician", "member"):
            client.force_login(getattr(world, whose))
            counted.setdefault(whose, []).append(queries(client, "/"))
    for few, many in counted.values():
        assert few == many
    assert set(kinds(world.technician)) | set(kinds(world.member)) == set(DUE)


def test_a_fill_is_named_once_where_it_presses_most(world):
    fill = a_fill(world, sg="1.62", level="nearly_empty")
    assert kinds(world.technician) == {"window": 1}
    shelf.raise_flag(by=world.member, fill=fill, kind="dried_out")
    assert kinds(world.technician) == {"dried": 1}
    shelf.raise_flag(by=world.member, fill=fill, kind="contaminated")
    assert kinds(world.technician) == {"flagged": 1}
    assert kinds(world.member) == {}  # nobody is asked to weigh what must be left alone


def test_an_old_reading_is_due_again(world):
    a_fill(world)
    assert kinds(world.member) == {}
    Reading.objects.update(taken_at=timezone.now() - timedelta(days=31))  # the studio's 30 days
    assert kinds(world.member) == {"stale": 1}
    Fill.objects.update(ended_at=timezone.now())
    assert kinds(world.member) == {}


def test_a_jar_is_its_owners_business(world):
    jar = shelf.create_bucket(by=world.member, owner=world.member)
    make.fill(make.glaze("Mill Red"), bucket_=jar, by=world.member, level="quarter", sg="1.5")
    assert named(world.member, "low") == ["Mill Red"]
    assert (kinds(world.other), kinds(world.technician)) == ({}, {})


def test_cones_are_asked_for_while_they_can_still_be_found(world):
    unread(world, kind="bisque", target="04")
    make.fire(make.firing(kind="bisque", target="04"))  # no cones were set: nothing to be read
    assert kinds(world.technician) == {"cones": 1}
    Firing.objects.update(unloaded_at=timezone.now() - timedelta(weeks=5))
    assert kinds(world.technician) == {}


def test_ones_own_come_first_within_a_group_and_among_the_groups(world):
    mine = waiting(world)
    for _i in range(SHOWN):
        waiting(world, by=world.other)
    a_fill(world, sg=None)
    assert named(world.member, "waiting")[0] == mine.number
    assert list(kinds(world.member)) == ["waiting", "stale"]
    to_look_again(world, by=world.member)
    wall.record_outcome(by=world.member, tile=mine, surface="dry")
    assert list(kinds(world.member)) == ["looks", "waiting", "stale"]


def test_a_private_tile_waits_for_its_maker_alone(world):
    tile = waiting(world, by=world.other)
    type(tile).objects.update(visibility="mine")
    assert (kinds(world.member), kinds(world.other)) == ({}, {"waiting": 1})


def test_what_is_in_hand(world):
    held, *others = [make.tile(f"H{n}", by=world.member) for n in range(4)]
    wall.take_in_hand(by=world.member, tile=held)
    take_set(by=world.member, tiles=others)
    begun(world)
    group = next(g for g in due_for(world.member) if g.kind == "hand")
    assert group.count == 3
    assert [(item.name, item.words) for item in group.items[:2]] == [
        ("H0", "in hand"),
        ("H1", "a set of 3 tiles"),
    ]
    assert kinds(world.other) == {}


def test_a_row_shows_a_few_and_leads_to_all(world, client):
    for _i in range(SHOWN + 2):
        a_fill(world, sg=None)
    client.force_login(world.member)
    page = client.get("/")
    assert page.content.decode().count('<li><a href="/b/') == SHOWN
    assert "all 6" in text_of(page)
    whole = client.get("/?show=stale")
    assert whole.content.decode().count('<li><a href="/b/') == SHOWN + 2
    assert SHOWN + 2 < MOST
    assert "all 6" not in text_of(whole)


def test_every_way_on_opens_for_whoever_is_shown_it(world, client):
    for make_one in DUE.values():
        make_one(world)
    for role in ("technician", "member"):
        client.force_login(getattr(world, role))
        for group in due_for(getattr(world, role)):
            for item in group.items:
                assert client.get(item.url).status_code == 200, (role, group.kind, item.url)


def test_the_api_names_the_same(world):
    for make_one in DUE.values():
        make_one(world)
    for who in ("member", "technician"):
        told = world.client(who).get(reverse("api-today")).json()["groups"]
        shown = due_for(getattr(world, who))
        assert [(g["kind"], g["count"], [i["id"] for i in g["items"]]) for g in told] == [
            (g.kind, g.count, [str(i.id) for i in g.items]) for g in shown
        ]
        assert told
    assert world.client("member").get(reverse("api-today") + "?kind=low").status_code == 400


def test_a_device_holds_nothing_in_hand(world):
    """A device acts for the studio, not for its owner."""
    wall.take_in_hand(by=world.technician, tile=make.tile(by=world.technician))
    waiting(world, by=world.technician)
    groups = world.client("device_token").get(reverse("api-today")).json()["groups"]
    assert [(g["kind"], [i["is_mine"] for i in g["items"]]) for g in groups] == [("waiting", [False])]
