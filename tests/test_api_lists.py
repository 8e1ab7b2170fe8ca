"""Every list of the API: as many queries for twelve rows as for three, and every row once while others are added."""

import itertools
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Glaze
from studio.actions.invitations import invite
from studio.actions.tokens import issue_token
from tests import make
from tests.api_calls import ApiWorld, picture, served
from tests.tiles.test_laboratory import figures, report
from tiles import actions as wall
from tiles.actions.events import add_event
from tiles.actions.home_trials import begin_trial
from tiles.actions.loose import add_loose_photo, pick_photo
from tiles.causes import standard_text
from tiles.models import Firing

numbers = itertools.count(500)


@pytest.fixture
def world(db):
    return ApiWorld()


def a_flag(world):
    flag = shelf.raise_flag(by=world.member, fill=make.fill(world.glaze), kind="contaminated", note="blue")
    shelf.add_note(by=world.technician, flag=flag, text="seen")
    shelf.add_flag_photo(by=make.person(), flag=flag, file=picture())


def a_whole_tile(world):
    """Two layers out of buckets of their own, fired, looked at, photographed and hung."""
    tile = make.fired_tile(
        by=make.person(),
        body=make.body(),
        place=shelf.create_place(by=world.manager, name=f"Board {next(numbers)}"),
        layers=[{"fill": make.fill(sg="1.5")}, {"fill": make.fill(), "area": "upper"}],
    )
    looks = {"zone": "overlap", "surface": "satin", "faults": [{"kind": "crazing", "where": "rim"}]}
    outcome = wall.record_outcome(by=make.person(), tile=tile, **looks)
    wall.add_photo(by=make.person(), tile=tile, file=picture(), outcome=outcome)


def a_firing(world):
    tiles = [make.tile(body=world.body, layers=[{"glaze": world.glaze}]) for _i in range(2)]
    firing = make.firing()
    wall.load_piece(by=make.person(), firing=firing, words="mugs", body=make.body())
    make.fire(firing, *tiles, witness=[{"position": "top", "cone": make.cone("6"), "bend_degrees": 90}])


def a_sorted_photo(w):
    tile = make.tile(body=w.body, layers=[{"glaze": w.glaze}])
    loose = add_loose_photo(by=make.person(), firing=make.fire(make.firing(), tile), file=picture())
    pick_photo(by=w.manager, loose=loose, tile=tile)


def an_old_tile(w):
    """Out of the kiln five weeks ago, and looked at a week later."""
    tile = make.fired_tile(by=make.person())
    out = timezone.now() - timedelta(weeks=5)
    Firing.objects.filter(tile_firings__tile=tile).update(unloaded_at=out)
    wall.record_outcome(by=tile.maker, tile=tile, surface="satin", looked_on=out.date() + timedelta(days=8))


def a_mark(w):
    make.tile(by=make.person(), layers=[{"fill": w.flag.fill}])
    wall.mark_touched(by=make.person("technician"), flag=w.flag)


def a_remedy(w):
    tile = make.fired_tile(by=make.person(), outcome={"zone": "whole", "faults": [{"kind": "running"}]})
    wall.plan_remedy(by=make.person(), tile=tile, fault="running", cause="too_thick", reserve=True)


def a_cause_table(w):
    text = standard_text() + f"other,made_up_{next(numbers)},Somebody leant on it,1,,,Do not,Again,,own\n"
    wall.change_causes(by=make.person("technician"), table=text, reason="one more")


def a_report(w):
    """Of a tile, with two layers, five figures and a body of its own."""
    tile = make.fired_tile(body=make.body(), layers=[{"fill": make.fill()}, {"fill": make.fill()}])
    rows = [*figures("Pb", "0.1", "<0.02"), *figures("Cd", "0.1", "<0.02"), *figures("Co", "0.1")]
    report(make.person("technician"), *rows, tile=tile)


def a_home_trial(w):
    begin_trial(
        by=make.person(), tile=make.fired_tile(), kind="acid", done="vinegar, three days", before=[picture()]
    )


# One more row of each list, with everything that the list shows of it. (list, kwargs of its address)
def a_finished_round(w):
    w.fill  # noqa: B018 - fills a bucket
    by = make.person()
    shelf.finish_round(by=by, sg_round=shelf.start_round(by=by))


MORE = {
    "api-people-list": lambda w: make.person(),
    "api-invitations-list": lambda w: invite(by=make.person("manager"), role="member"),
    "api-tokens-list": lambda w: issue_token(by=w.manager, name="script"),
    "api-changes-list": lambda w: make.glaze(by=make.person("technician")),
    "api-glazes-list": lambda w: make.glaze(),
    "api-substances-list": lambda w: shelf.note_substance(
        by=make.person(), glaze=make.glaze(), substance="Co", read_in="maker"
    ),
    "api-places-list": lambda w: shelf.create_place(
        by=w.manager, name=f"Shelf {next(numbers)}", parent=w.place
    ),
    "api-buckets-list": lambda w: make.fill(
        bucket_=make.bucket(place=shelf.create_place(by=w.manager, name=f"Room {next(numbers)}")), sg="1.5"
    ),
    "api-fills-list": lambda w: make.fill(label="none", glaze_=make.glaze(origin="bought"), sg="1.5"),
    "api-fills-readings": lambda w: shelf.add_reading(by=make.person(), fill=w.fill, specific_gravity="1.5"),
    "api-fills-stock-entries": lambda w: shelf.add_stock_entry(
        by=make.person(), fill=w.fill, kind="level", level="half"
    ),
    "api-fills-treatments": lambda w: shelf.treat(by=make.person(), fill=w.fill, kind="stirred"),
    "api-sg-rounds-list": a_finished_round,
    "api-flags-list": a_flag,
    "api-flags-tiles": lambda w: make.tile(layers=[{"fill": w.flag.fill}, {"fill": make.fill()}]),
    "api-flags-marks": a_mark,
    "api-class-lists-list": lambda w: make.class_list(make.fill(), by=make.person()),
    "api-class-lists-entries": lambda w: shelf.add_class_entry(
        class_list=w.class_list, fill=w.fill, makers=8, volume_ml=50
    ),
    "api-register": lambda w: make.fill(label="none", glaze_=make.glaze(origin="bought"), sg="1.5"),
    "api-clay-bodies-list": lambda w: make.body(),
    "api-kilns-list": lambda w: make.kiln(),
    "api-kilns-parts": lambda w: wall.note_part_change(
        by=w.manager, kiln=w.kiln, part="elements", changed_on=timezone.localdate()
    ),
    "api-firings-list": a_firing,
    "api-schedules-list": lambda w: make.schedule(),
    "api-firings-events": lambda w: add_event(by=make.person(), firing=w.fired, words="a look in"),
    "api-pieces-list": lambda w: wall.load_piece(
        by=make.person(), firing=make.firing(), words="mugs", body=make.body()
    ),
    "api-runs-list": lambda w: wall.reserve_numbers(by=make.person(), count=2, prefix="R"),
    "api-tiles-list": a_whole_tile,
    "api-photos-list": a_whole_tile,
    "api-loose-photos-list": lambda w: a_sorted_photo(w),
    "api-looks-due-list": lambda w: an_old_tile(w),
    "api-searches-list": lambda w: wall.save_search(
        by=make.person(), name="Satin", query="surface=satin", is_shared=True
    ),
    "api-remedy-trials-list": a_remedy,
    "api-causes-versions": a_cause_table,
    "api-lab-reports-list": a_report,
    "api-home-trials-list": a_home_trial,
    "api-combinations-list": lambda w: make.tile(layers=[{"glaze": make.glaze()}, {"glaze": make.glaze()}]),
}

# The lists of one record's parts, and the record of the world that has them.
PARTS = {
    "api-kilns-parts": "kiln",
    "api-firings-events": "fired",
    "api-fills-readings": "fill",
    "api-flags-tiles": "flag",
    "api-flags-marks": "flag",
    "api-fills-stock-entries": "fill",
    "api-fills-treatments": "fill",
    "api-class-lists-entries": "class_list",
}


def paged():
    """The names of all addresses that answer GET with a page of rows."""
    lists = {"list", "readings", "stock_entries", "treatments", "entries", "events"}
    actions = {name: getattr(call, "actions", {}) for (name, method), call in served().items()}
    return {name for name, by_method in actions.items() if by_method.get("get") in lists}


def test_no_list_is_forgotten():
    assert set(MORE) == paged()


@pytest.mark.parametrize("name", MORE)
def test_a_longer_list_asks_no_more_queries(name, world):
    client = world.client("manager")
    whose = PARTS.get(name)
    address = reverse(name, kwargs={"pk": getattr(world, whose).pk} if whose else {})
    counted = {}
    for wanted in (3, 12):
        while len(rows := client.get(address, {"page_size": 100}).json()["results"]) < wanted:
            MORE[name](world)
        with CaptureQueriesContext(
            connection,
        ) as queries:
            client.get(address, {"page_size": 100})
        counted[len(rows)] = len(queries)
    assert len(counted) == 2
    assert len(set(counted.values())) == 1, counted
    assert max(counted.values()) < 25


def test_paging_shows_every_row_once_while_rows_are_added(world):
    client = world.client("member")
    expected = {str(make.glaze().pk) for _i in range(11)}
    seen, address = [], reverse("api-glazes-list") + "?page_size=4"
    while address:
        page = client.get(address).json()
        seen += [row["id"] for row in page["results"]]
        make.glaze()  # somebody adds one between two pages
        address = page["next"]
    assert len(seen) == len(set(seen))
    assert set(seen) == expected


def test_paging_goes_back_the_way_it_came(world):
    client = world.client("member")
    for _i in range(5):
        make.glaze()
    first = client.get(reverse("api-glazes-list") + "?page_size=2").json()
    second = client.get(first["next"]).json()
    assert client.get(second["previous"]).json()["results"] == first["results"]


def test_rows_of_one_moment_are_not_lost(world):
    """An import writes many rows at the same microsecond."""
    client = world.client("member")
    for _i in range(7):
        make.glaze()
    Glaze.objects.update(created_at=Glaze.objects.first().created_at)
    seen, address = [], reverse("api-glazes-list") + "?page_size=2"
    while address:
        page = client.get(address).json()
        seen += [row["id"] for row in page["results"]]
        address = page["next"]
    assert sorted(seen) == sorted(str(pk) for pk in Glaze.objects.values_list("pk", flat=True))
    assert len(seen) == 7
