"""All that a flag touches, set aside in one step and given back in one, with everything written down."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory import actions as shelf
from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tiles.actions import load_tile, mark_touched, undo_marks
from tiles.models import FlagMark, Tile


def days(n):
    return timezone.now() - timedelta(days=n)


@pytest.fixture
def fill(studio):
    return make.fill(make.glaze("Weir Ash"), days_ago=60)


@pytest.fixture
def tiles(fill, member):
    """Named after the days since they were glazed; `other` came out of another bucket."""
    made = {
        f"D{n}": make.tile(f"D{n}", by=member, layers=[{"fill": fill, "applied_at": days(n)}])
        for n in (40, 20, 5)
    }
    return made | {"other": make.tile("other", by=member, layers=[{"fill": make.fill()}])}


@pytest.fixture
def flag(fill, tiles, member):
    return shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=days(30))


def marked():
    return sorted(Tile.objects.with_mark().filter(is_marked=True).values_list("number", flat=True))


def test_one_step_marks_what_the_flag_touches_and_one_gives_it_back(flag, technician):
    marks = mark_touched(by=technician, flag=flag)
    assert marked() == ["D20", "D5"]
    assert len({mark.batch for mark in marks}) == 1
    undo_marks(by=technician, flag=flag, batch=marks[0].batch)
    assert marked() == []
    assert FlagMark.objects.exclude(undone_at=None).count() == 2
    with pytest.raises(Refused, match="taken back already"):
        undo_marks(by=technician, flag=flag, batch=marks[0].batch)


@pytest.mark.parametrize(
    ("since", "expected"), [(50, ["D20", "D40", "D5"]), (10, ["D5"]), (30.5, ["D20", "D5"])]
)
def test_another_day_may_be_chosen_earlier_or_later_than_the_flags(flag, technician, since, expected):
    mark_touched(by=technician, flag=flag, since=days(since))
    assert marked() == expected


def test_what_is_marked_stays_with_its_own_step(flag, technician):
    first = mark_touched(by=technician, flag=flag, since=days(10))
    second = mark_touched(by=technician, flag=flag)
    assert [mark.tile.number for mark in second] == ["D20"]
    with pytest.raises(Refused, match="all are marked"):
        mark_touched(by=technician, flag=flag)
    undo_marks(by=technician, flag=flag, batch=first[0].batch)
    assert marked() == ["D20"]
    mark_touched(by=technician, flag=flag)
    assert marked() == ["D20", "D5"]


def test_every_tile_and_the_bucket_tell_of_it(flag, tiles, technician):
    marks = mark_touched(by=technician, flag=flag)
    undo_marks(by=technician, flag=flag, batch=marks[0].batch, reason="another bucket")
    told = Change.objects.filter(kind="tiles.tile", object_id=tiles["D5"].pk).order_by("at", "id")
    assert [row.verb for row in told][-2:] == ["marked for a flag", "took a mark back"]
    of_fill = Change.objects.filter(object_id=flag.fill_id, verb__contains="marks of a flag").get()
    assert of_fill.before["tiles"] == ["D20", "D5"]
    assert of_fill.reason == "another bucket"
    step = Change.objects.filter(batch=marks[0].batch)
    assert sorted(row.object_text for row in step) == ["Tile D20", "Tile D5", str(flag.fill)]


def test_the_buckets_history_names_no_private_tile(flag, fill, tiles, technician, member):
    make.tile("P6", layers=[{"fill": fill, "applied_at": days(6)}], visibility="mine")
    mark_touched(by=technician, flag=flag)
    assert marked() == ["D20", "D5", "P6"]
    told = Change.objects.get(object_id=flag.fill_id, verb="marked the tiles of a flag")
    assert told.after["tiles"] == ["D20", "D5"]


def test_what_was_poured_on_is_marked_too_and_a_lifted_flag_marks_nothing(flag, fill, technician):
    reached = make.fill(fill.glaze, days_ago=60)
    shelf.transfer(by=technician, source=fill, target=reached, volume_ml=100, at=days(15))
    make.tile("R8", layers=[{"fill": reached, "applied_at": days(8)}])
    make.tile("R18", layers=[{"fill": reached, "applied_at": days(18)}])
    mark_touched(by=technician, flag=flag)
    assert marked() == ["D20", "D5", "R8"]
    shelf.clear_flag(by=technician, flag=flag, outcome="mistaken", note="the light")
    with pytest.raises(Refused, match="lifted"):
        mark_touched(by=technician, flag=flag)


def test_members_mark_nothing(flag, member):
    with pytest.raises(NotAllowed):
        mark_touched(by=member, flag=flag)


def test_page_wall_and_api_show_the_mark(client, flag, tiles, technician, member):
    client.force_login(technician)
    page = text_of(client.get(flag.get_absolute_url()))
    assert "Mark 2 tiles" in page
    client.post(f"/flags/{flag.pk}/marks/", {"since": ""})
    assert marked() == ["D20", "D5"]
    page = text_of(client.get(flag.get_absolute_url()))
    assert "Take back 2 marks" in page
    assert "Set aside" in text_of(client.get("/t/D5"))
    assert "Set aside" not in text_of(client.get("/t/D40"))
    assert text_of(client.get("/wall/?marked=true")).count("set aside") >= 2
    numbers = {row["number"] for row in client.get("/api/v1/tiles/?marked=true").json()["results"]}
    assert numbers == {"D20", "D5"}
    client.force_login(member)
    assert "Take back" not in text_of(client.get(flag.get_absolute_url()))


def test_firings_and_combinations_are_listed(client, flag, tiles, technician):
    firing = make.fire(make.firing(), tiles["D5"])
    make.fire(make.firing(), tiles["other"])
    client.force_login(technician)
    found = client.get(f"/api/v1/flags/{flag.pk}/used/").json()
    assert [row["number"] for row in found["firings"]] == [firing.number]
    assert (found["tile_count"], found["not_marked_count"]) == (2, 2)
    assert len(found["combinations"]) == 1
    assert f"/firings/{firing.number}" in client.get(flag.get_absolute_url()).content.decode()
    later = client.get(f"/api/v1/flags/{flag.pk}/used/", {"since": timezone.now().isoformat()}).json()
    assert (later["tile_count"], later["firings"]) == (0, [])
    assert client.get(f"/api/v1/flags/{flag.pk}/used/?sinc=1").status_code == 400


def test_combinations_and_firings_say_how_many_of_their_tiles_are_set_aside(
    client, flag, tiles, technician, member
):
    firing = make.firing()
    for n in (40, 5):
        load_tile(by=make.manager(), firing=firing, tile=tiles[f"D{n}"])
    hidden = make.tile("P6", layers=[{"fill": flag.fill, "applied_at": days(6)}], visibility="mine")
    load_tile(by=make.manager(), firing=firing, tile=hidden)
    marks = mark_touched(by=technician, flag=flag)
    combination = tiles["D5"].zones.get().combination
    other = tiles["other"].zones.get().combination
    client.force_login(member)
    code = flag.fill.bucket.code
    assert f"2 of its tiles are set aside, because bucket {code} of Weir Ash" in text_of(
        client.get(f"/combinations/{combination.pk}/")
    )
    rows = text_of(client.get("/combinations/"))
    assert rows.count("2 tiles set aside because of a flag") == 1
    assert f"1 of its tiles is set aside, because bucket {code}" in text_of(
        client.get(firing.get_absolute_url())
    )
    assert "set aside" not in text_of(client.get(f"/combinations/{other.pk}/"))
    for address, count in ((f"combinations/{combination.pk}", 2), (f"firings/{firing.pk}", 1)):
        (said,) = client.get(f"/api/v1/{address}/").json()["set_aside"]
        assert (said["flag"], said["bucket"], said["kind"], said["tile_count"], said["is_lifted"]) == (
            str(flag.pk),
            code,
            "contaminated",
            count,
            False,
        )
    client.force_login(technician)
    assert client.get(f"/api/v1/firings/{firing.pk}/").json()["set_aside"][0]["tile_count"] == 2
    undo_marks(by=technician, flag=flag, batch=marks[0].batch)
    assert client.get(f"/api/v1/combinations/{combination.pk}/").json()["set_aside"] == []
    assert "set aside" not in text_of(client.get("/combinations/")).lower()
