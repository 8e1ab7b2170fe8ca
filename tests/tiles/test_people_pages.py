"""My tiles and the open wall: what waits for a word first, and nobody's name before a visitor."""

import pytest
from django.test import Client

from studio.models import Studio
from tests import make
from tests.api_calls import picture
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles import actions

MINE, OPEN = "/mine/", "/open/"


@pytest.fixture
def browser(client, member):
    client.force_login(member)
    return client


def test_what_waits_for_a_result_comes_first(browser, people):
    """Fired and not seen, and refired since it was seen; each other state has a rail of its own."""
    me = people["member"]
    make.tile("10", by=me)
    make.tile("11", by=me, layers=[{"glaze": make.glaze()}], visibility="mine")
    make.fired_tile(number="12", by=me)
    make.fired_tile(number="13", by=me, outcome={"surface": "satin"})
    again = make.fired_tile(number="14", by=me, outcome={"surface": "satin"})
    make.fire(make.firing(kind="refire"), again)
    bisqued = make.tile("15", by=me)
    make.fire(make.firing(kind="bisque", target="04"), bisqued)
    lost = make.fired_tile(number="16", by=me)
    actions.change_tile(by=me, obj=lost, values={"state": "lost"})
    make.fired_tile(number="17", by=people["other"])
    rails = browser.get(MINE).context["rails"]
    assert [(rail.name, sorted(card.number for card in rail.cards)) for rail in rails] == [
        ("Waiting for a result", ["12", "14"]),
        ("Glazed", ["11"]),
        ("Bisqued", ["15"]),
        ("Blank", ["10"]),
        ("Recorded", ["13"]),
        ("Lost", ["16"]),
    ]
    notes = {card.number: card.note for rail in rails for card in rail.cards}
    assert notes["11"] == "seen by: me and technicians"
    assert notes["12"] == ""


def test_who_sees_a_tile_is_said_in_words(browser, people):
    tile = make.tile(by=people["member"], visibility="open")
    meaning = "visitors see it without log-in too, but no name of a person"
    for address in (MINE, tile.get_absolute_url(), f"{tile.get_absolute_url()}/edit"):
        assert meaning in text_of(browser.get(address)), address


def test_more_tiles_of_mine_ask_no_more_queries(browser, people):
    same_for_more(browser, MINE, lambda n: [make.fired_tile(by=people["member"]) for _ in range(n)])


def test_a_visitor_sees_open_tiles_and_no_name(people):
    body = make.body("Weir Stoneware")
    shown = make.fired_tile(
        number="W7", by=people["other"], body=body, visibility="open", remark=f"ask {people['other'].name}",
        layers=[{"glaze": make.glaze("Ash Celadon")}],
    )  # fmt: skip
    photo = actions.add_photo(by=people["member"], tile=shown, file=picture(), caption="by Second Member")
    for number, visibility in (("S7", "studio"), ("P7", "mine")):
        make.tile(number, by=people["other"], visibility=visibility)
    visitor = Client()
    page = visitor.get(OPEN)
    text, html = text_of(page), page.content.decode()
    assert page.status_code == 200
    assert "W7 cone 6 (1222 °C), planned only Ash Celadon" in text
    assert "S7" not in text
    assert "P7" not in text
    for person in people.values():
        assert person.name not in html
        assert person.username not in html
    assert page["X-Robots-Tag"] == "noindex, nofollow"
    sized = f"/open/photos/{photo.pk}/"
    assert visitor.get(sized + "small").status_code == 200
    assert visitor.get(sized + "large").status_code == 404
    actions.archive_photo(by=people["other"], photo=photo)
    assert visitor.get(sized + "small").status_code == 404
    actions.change_tile(by=people["other"], obj=shown, values={"visibility": "studio"})
    assert "W7" not in text_of(visitor.get(OPEN))


def test_the_manager_can_close_it_to_visitors(browser, studio):
    Studio.objects.update(open_wall_open=False)
    answer = Client().get(OPEN)
    assert answer.status_code == 302
    assert answer["Location"].startswith("/login/")
    assert browser.get(OPEN).status_code == 200


def test_more_open_tiles_ask_no_more_queries(studio):
    same_for_more(Client(), OPEN, lambda n: [make.fired_tile(visibility="open") for _ in range(n)])
