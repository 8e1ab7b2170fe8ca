"""Filling a kiln on its page: tiles, what stops them, private ones, pieces, the sheet."""

import re

import pytest
from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tests.tiles.firing_forms import at
from tiles import actions


def test_a_member_sees_no_steps_but_may_load(client, member):
    client.force_login(member)
    firing, tile = make.firing(), make.tile("312", by=member)
    html = client.get(firing.get_absolute_url()).content.decode()
    assert 'name="state"' not in html
    assert "override_reason" not in html
    response = client.post(at("load", firing), {"numbers": " 312 ", "position": "top"}, follow=True)
    assert "Tile 312 is in." in text_of(response)
    [(row, card)] = client.get(firing.get_absolute_url()).context["hung"]
    assert (row.tile, card.facts) == (tile, ("top",))
    out = client.post(at("take-out", firing), {"tile": "312"}, follow=True)
    assert "Tile 312 is out again." in text_of(out)
    assert not firing.tile_firings.exists()


def test_what_stops_a_tile_is_listed_and_a_technician_may_go_on(client, people):
    firing = make.firing(make.kiln(highest="12"), target="10")
    make.tile("312", body=make.body(low="06", high="2"))
    sent = {"numbers": "312", "position": "top"}
    client.force_login(people["member"])
    stopped = client.post(at("load", firing), sent)
    assert "Stop: Tile 312 This firing goes to cone 10 (1285 °C)" in text_of(stopped)
    assert "A technician can put it in all the same" in text_of(stopped)
    assert 'value="312"' in stopped.content.decode()
    assert client.post(at("load", firing), {**sent, "override_reason": "mine"}).status_code == 200
    assert not firing.tile_firings.exists()
    client.force_login(people["technician"])
    offered = client.post(at("load", firing), sent)
    assert 'name="override_reason"' in offered.content.decode()
    client.post(at("load", firing), {**sent, "override_reason": "a melting trial"})
    response = client.get(firing.get_absolute_url())
    assert "Went in all the same Tile 312. This firing goes to cone 10 (1285 °C)" in text_of(response)
    assert "Reason given: a melting trial" in text_of(response)


UNLOADABLE = [
    ("nothing of that number", {"numbers": "77"}, "There is no tile 77"),
    ("another's private tile", {"numbers": "P1"}, "There is no tile P1"),
    ("no number", {"numbers": ""}, "Say which tiles"),
    ("a place that the kiln lacks", {"numbers": "312", "position": "attic"}, "attic"),
    ("a tile in another firing", {"numbers": "E1"}, "already"),
    ("a broken tile", {"numbers": "B1"}, "broken"),
]


@pytest.mark.parametrize(("what", "sent", "words"), UNLOADABLE, ids=[u[0] for u in UNLOADABLE])
def test_what_cannot_be_loaded_is_refused_in_words(client, people, what, sent, words):
    client.force_login(people["member"])
    firing = make.firing()
    make.tile("312")
    make.tile("P1", by=people["other"], visibility="mine")
    actions.load_tile(by=make.manager(), firing=make.firing(), tile=make.tile("E1"))
    actions.change_tile(by=make.manager(), obj=make.tile("B1"), values={"state": "broken"})
    response = client.post(at("load", firing), sent)
    assert words in text_of(response)
    assert not firing.tile_firings.exists()


def test_a_private_tile_of_another_is_counted_but_not_shown(client, people):
    firing = make.firing()
    for number, visibility in (("P1", "mine"), ("S1", "studio")):
        tile = make.tile(number, by=people["other"], visibility=visibility)
        actions.load_tile(by=people["other"], firing=firing, tile=tile)
    client.force_login(people["member"])
    response = client.get(firing.get_absolute_url())
    assert [card.number for _row, card in response.context["hung"]] == ["S1"]
    assert "P1" not in text_of(response)
    assert "1 more is kept private by its maker." in text_of(response)
    assert client.post(at("take-out", firing), {"tile": "P1"}).status_code == 404
    client.force_login(people["technician"])
    assert "P1" in text_of(client.get(firing.get_absolute_url()))


@pytest.mark.parametrize(
    ("kind", "offered"), [("bisque", ["B"]), ("glaze", ["G"]), ("refire", ["R"]), ("overglaze", ["R"])]
)
def test_the_tiles_that_wait_are_those_that_the_kind_of_firing_takes(tech, kind, offered):
    one = [{"glaze": make.glaze()}]
    make.tile("B")
    make.tile("G", layers=one)
    make.fire(make.firing(), make.tile("F", layers=one))
    again = make.tile("R", layers=one)
    make.fire(make.firing(), again)
    actions.add_layer(by=make.manager(), tile=again, glaze=make.glaze(), ground="fired")
    actions.load_tile(by=make.manager(), firing=make.firing(), tile=make.tile("E", layers=one))
    page = tech.get(at("load", make.firing(target="04", kind=kind)))
    assert [card.number for _pk, card, _picked in page.context["waiting"]] == offered


def test_what_a_stopped_firing_left_half_done_waits_again_also_when_it_was_looked_at(tech):
    looked_at, other = (make.tile(n, layers=[{"glaze": make.glaze()}]) for n in ("S1", "S2"))
    make.fire(make.firing(), looked_at, other, stop=True)
    actions.record_outcome(by=make.manager(), tile=looked_at, faults=[{"kind": "underfired"}])
    for kind in ("glaze", "refire"):
        page = tech.get(at("load", make.firing(kind=kind)))
        assert [card.number for _pk, card, _picked in page.context["waiting"]] == ["S2", "S1"], kind
    make.fire(make.firing(kind="refire"), looked_at, other)
    assert tech.get(at("load", make.firing())).context["waiting"] == []
    mine = tech.get("/api/v1/tiles/?waiting=true").json()["results"]
    assert {tile["number"] for tile in mine} == {"S1", "S2"}


def test_several_go_into_one_position_all_of_them_or_none(client, member):
    client.force_login(member)
    firing = make.firing()
    tiles = [make.tile(str(n), by=member, layers=[{"glaze": make.glaze()}]) for n in (312, 313, 314, 330)]
    sent = {"picked": [tiles[3].pk], "numbers": "312-314", "position": "bottom"}
    actions.change_tile(by=member, obj=tiles[1], values={"state": "broken"})
    refused = client.post(at("load", firing), sent)
    assert "Tile 313: This tile is broken" in text_of(refused)
    assert 'value="312-314"' in refused.content.decode()
    assert re.search(rf'value="{tiles[3].pk}" checked', refused.content.decode())
    assert not firing.tile_firings.exists()
    actions.change_tile(by=member, obj=tiles[1], values={"state": "glazed"})
    done = client.post(at("load", firing), sent, follow=True)
    assert "Tiles 312-314, 330 are in." in text_of(done)
    assert done.redirect_chain == [(f"{at('load', firing)}?position=bottom", 302)]
    assert re.search(r'value="bottom"[^>]* checked', done.content.decode())  # ready for the next ones
    assert {row.position for row in firing.tile_firings.all()} == {"bottom"}


def test_pieces_go_in_and_out_on_the_same_page(client, people):
    client.force_login(people["member"])
    firing, body = make.firing(), make.body("Weir White")
    sent = {"piece-words": "mugs", "piece-count": "6", "piece-body": body.pk, "piece-position": "top"}
    done = client.post(at("piece", firing), sent, follow=True)
    assert "6 × mugs Member" in text_of(done)
    assert "Weir White" in text_of(done)
    assert "6 × mugs" in text_of(client.get(firing.get_absolute_url()))
    bad = client.post(at("piece", firing), {**sent, "piece-count": "0", "piece-words": "jars"})
    assert 'value="jars"' in bad.content.decode()
    piece = firing.pieces.get()
    out = reverse("tiles:firing-piece-out", args=[firing.number, piece.pk])
    client.force_login(people["other"])
    assert client.post(out).status_code == 403
    client.force_login(people["member"])
    assert "6 × mugs: out again." in text_of(client.post(out, follow=True))
    assert "6 × mugs" not in text_of(client.get(firing.get_absolute_url()))


def test_a_piece_outside_the_cone_is_stopped_on_the_page(client, people):
    firing, body = make.firing(target="6"), make.body(low="06", high="2")
    sent = {"piece-words": "mugs", "piece-count": "6", "piece-body": body.pk}
    client.force_login(people["member"])
    stopped = client.post(at("piece", firing), sent)
    assert "This firing goes to cone 6 (1222 °C)" in text_of(stopped)
    assert "piece-override_reason" not in stopped.content.decode()
    client.force_login(people["technician"])
    sent |= {"piece-owner": people["member"].pk, "piece-override_reason": "in a dish"}
    client.post(at("piece", firing), sent)
    assert [(p.owner, p.override_reason) for p in firing.pieces.all()] == [(people["member"], "in a dish")]


def test_the_sheet_says_in_words_what_stands_where(client, people):
    firing = make.firing(make.kiln(salt=True, cautions="The lid lifter sticks."))
    layers = [
        {"glaze": make.glaze("Weir Green"), "coats": 2, "area": "upper"},
        {"glaze": make.glaze("Lock Blue")},
    ]
    for number, position, more in (("S1", "bottom", {}), ("P1", "top", {"visibility": "mine"})):
        tile = make.tile(number, by=people["other"], layers=layers, **more)
        actions.load_tile(by=people["other"], firing=firing, tile=tile, position=position)
    actions.load_piece(by=people["other"], firing=firing, words="mugs", count=6, position="top")
    client.force_login(people["member"])
    words = text_of(client.get(at("sheet", firing)))
    assert words.index("Top 6 × mugs Second Member") < words.index("Bottom S1")
    assert "Weir Green: two coats dipped, upper" in words
    assert words.index("Weir Green") < words.index("Lock Blue")
    assert "Salt or soda has been fired in this kiln" in words
    assert "The lid lifter sticks." in words
    assert "2 tiles, 6 pieces" in words
    assert "P1" not in words
    client.force_login(people["technician"])
    assert "P1" in text_of(client.get(at("sheet", firing)))


def test_more_in_the_kiln_and_more_that_wait_ask_no_more_queries(tech, manager):
    firing = make.firing()

    def more(n):
        for _ in range(n):
            layers = [{"fill": make.fill()}, {"glaze": make.glaze()}]
            actions.load_tile(
                by=manager, firing=firing, tile=make.tile(body=make.body(), layers=layers), position="top"
            )
            make.tile(body=make.body(), layers=layers)
            actions.load_piece(
                by=make.person(), firing=firing, words="mugs", body=make.body(), position="top"
            )

    same_for_more(tech, at("load", firing), more)
    same_for_more(tech, at("sheet", firing), more)
