"""However the wall hangs: rails in their order, and pages that neither lose a tile nor show one twice."""

from datetime import date

import pytest

from inventory import actions as shelf
from tests import make
from tests.reading import text_of
from tests.tiles.test_wall import rails
from tiles.actions import record_outcome
from tiles.queries_hanging import HANGINGS

WALL = "/wall/"
LOOKS = [None, "glossy", "satin", "matte", "dry"]


@pytest.fixture
def member_client(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def wall(db):
    """Fourteen tiles that share cones, surfaces, glazes and days."""
    glazes = [make.glaze("Ash Celadon"), make.glaze("ash celadon 2"), make.glaze("Weir Shino")]
    tiles = [
        make.tile(
            f"H{n}",
            layers=[{"glaze": glazes[n % 3]}] if n % 4 else [],
            made_on=date(2026, 1 + n % 3, 5) if n % 5 else None,
        )
        for n in range(14)
    ]
    fired = [(n, tile) for n, tile in enumerate(tiles) if n % 4 and n % 5]
    for target in (0, 1):
        make.fire(make.firing(target="56"[target]), *[tile for n, tile in fired if n % 2 == target])
    for n, tile in fired:
        if LOOKS[n % 5]:
            record_outcome(by=tile.maker, tile=tile, zone="whole", surface=LOOKS[n % 5])
    return [tile.number for tile in tiles]


def walked(client, how, size, back=False):
    """The numbers of all pages, forwards, or back again from the last."""
    address, seen = f"{WALL}?hang={how}&page_size={size}", []
    while address:
        response = client.get(address)
        page = [number for numbers in rails(response).values() for number in numbers]
        seen = page + seen if back == "backwards" else seen + page
        address = response.context["previous_url" if back == "backwards" else "next_url"]
        if back is True and not address:
            address, seen, back = response.context["previous_url"], page, "backwards"
    return seen


@pytest.mark.parametrize("how", sorted(HANGINGS))
def test_walking_the_pages_meets_each_tile_once(member_client, wall, how):
    whole = walked(member_client, how, 100)
    assert sorted(whole) == sorted(wall)

    for size in (2, 5):
        if how == "cone":  # its last rails are sorted on each page by what is known of them
            assert sorted(walked(member_client, how, size)) == sorted(whole)
        else:
            assert walked(member_client, how, size) == whole
            assert walked(member_client, how, size, back=True) == whole


def test_the_rails_say_what_their_tiles_share(member_client):
    ash, shino = make.glaze("Ash Celadon"), make.glaze("Weir Shino")
    make.tile("B1", made_on=date(2026, 2, 1))
    one = make.tile("A1", layers=[{"glaze": shino}, {"glaze": ash}], made_on=date(2026, 2, 28))
    two = make.tile("S1", layers=[{"glaze": ash}, {"glaze": shino}], made_on=date(2026, 3, 1))
    make.fire(make.firing(), one, two)
    record_outcome(by=one.maker, tile=one, zone="whole", surface="dry", looked_on=date(2026, 3, 1))
    record_outcome(by=one.maker, tile=one, zone="whole", surface="satin", looked_on=date(2026, 4, 1))
    record_outcome(by=two.maker, tile=two, zone="whole", surface="glossy", looked_on=date(2026, 4, 1))
    shown = {how: rails(member_client.get(WALL, {"hang": how})) for how in ("surface", "glaze", "date")}
    assert list(shown["surface"].items()) == [
        ("glossy", ["S1"]),
        ("satin", ["A1"]),
        ("nobody has said what its surface is", ["B1"]),
    ]
    assert list(shown["glaze"].items()) == [
        ("Ash Celadon", ["A1"]),
        ("Weir Shino", ["S1"]),
        ("no glaze yet", ["B1"]),
    ]
    assert list(shown["date"].items()) == [("March 2026", ["S1"]), ("February 2026", ["A1", "B1"])]


def test_the_address_keeps_the_hanging(member_client):
    make.fired_tile(number="Q1", outcome={"zone": "whole", "surface": "satin"})
    response = member_client.get(WALL, {"hang": "surface", "q": "satin"})
    (rail, alone), *_rest = response.context["rails"]
    assert alone == "?hang=surface&q=satin&surface=satin"
    assert rails(member_client.get(WALL + alone)) == {"satin": ["Q1"]}
    assert [one.without for one in response.context["asked"]] == ["hang=surface"]
    html = response.content.decode()
    assert '<input type="hidden" name="hang" value="surface">' in html
    assert 'href="/wall/?q=satin&amp;hang=date"' in html
    assert 'href="/wall/?q=satin"' in html


def test_csv_and_api_hang_alike(member_client, wall):
    for how in HANGINGS:
        lines = b"".join(member_client.get(f"/wall.csv?hang={how}").streaming_content).decode().splitlines()
        rows = member_client.get(f"/api/v1/tiles/?hang={how}&page_size=100").json()["results"]
        assert [line.split(",")[0] for line in lines[1:]] == [row["number"] for row in rows]
        first = member_client.get(f"/api/v1/tiles/?hang={how}&page_size=10").json()
        second = member_client.get(first["next"]).json()
        assert [row["number"] for row in first["results"] + second["results"]] == [r["number"] for r in rows]


def test_where_it_hangs_is_said_on_the_tile(member_client, manager):
    board = shelf.create_place(by=manager, name="North board", kind="board")
    hook = shelf.create_place(by=manager, name="Hook 7", kind="hook", parent=board)
    make.tile("P1", place=hook)
    assert "hangs: North board › Hook 7" in text_of(member_client.get(WALL))
