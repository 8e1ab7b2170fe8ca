"""Combinations: the list with its counts, and everything that is known of one stack."""

import pytest
from django.urls import reverse

from inventory import actions as shelf
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles import actions
from tiles.models import Combination

LIST = "/combinations/"


@pytest.fixture
def member_client(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def glazes(studio):
    return {name: make.glaze(name) for name in ("Ash Celadon", "Mill Tenmoku", "Weir Shino")}


def layered(*glazes, **fields):
    return make.tile(layers=[{"glaze": glaze} for glaze in glazes], **fields)


def stack_of(tile):
    return tile.zones.get().combination


def at(combination):
    return reverse("tiles:combination", args=[combination.pk])


def test_the_list_counts_tiles_and_looks_and_keeps_the_order_of_the_layers(member_client, glazes):
    ash, tenmoku, shino = glazes.values()
    for n in range(2):
        tile = layered(ash, tenmoku)
        make.fire(make.firing(), tile)
        for _ in range(n + 1):
            actions.record_outcome(by=tile.maker, tile=tile, zone="whole", surface="satin")
    layered(tenmoku, ash), layered(shino)
    rows = {str(c): (c.tile_count, c.look_count) for c in member_client.get(LIST).context["rows"]}
    assert rows == {
        "Ash Celadon → Mill Tenmoku": (2, 3),
        "Mill Tenmoku → Ash Celadon": (1, 0),
        "Weir Shino": (1, 0),
    }
    assert "Weir Shino on its own 1 tile, 0 looks" in text_of(member_client.get(LIST))


def test_a_stack_that_stood_only_while_a_tile_was_logged_is_not_listed(member_client, glazes, manager):
    ash, tenmoku, _shino = glazes.values()
    tile = layered(ash)
    actions.add_layer(by=manager, tile=tile, glaze=tenmoku)
    assert Combination.objects.count() == 2
    assert [str(c) for c in member_client.get(LIST).context["rows"]] == ["Ash Celadon → Mill Tenmoku"]


def test_the_list_can_be_asked_for_a_glaze(member_client, glazes):
    ash, tenmoku, shino = glazes.values()
    layered(ash, tenmoku), layered(shino)
    rows = member_client.get(LIST, {"glaze": tenmoku.pk}).context["rows"]
    assert [str(c) for c in rows] == ["Ash Celadon → Mill Tenmoku"]
    assert "Choose one from the list" in text_of(member_client.get(LIST, {"glaze": "ash"}))


def test_the_tiles_hang_by_body_and_cone(member_client, glazes):
    ash, tenmoku, _shino = glazes.values()
    white, red = make.body("Weir White"), make.body("Sluice Red")
    for number, body, target in (("1", white, "6"), ("2", red, "6"), ("3", white, "5"), ("4", white, "6")):
        make.fire(make.firing(target=target), layered(ash, tenmoku, number=number, body=body))
    layered(ash, tenmoku, number="5")
    response = member_client.get(at(Combination.objects.get()))
    assert {rail.name: [card.number for card in rail.cards] for rail, _said in response.context["rails"]} == {
        "clay body not known, cone not known": ["5"],
        "Sluice Red, cone 6 · about 1222\u00a0°C": ["2"],
        "Weir White, cone 6 · about 1222\u00a0°C": ["4", "1"],
        "Weir White, cone 5 · about 1186\u00a0°C": ["3"],
    }


def test_what_was_seen_is_counted_and_damage_warns_ever_after(member_client, glazes):
    ash, tenmoku, _shino = glazes.values()
    tile = layered(ash, tenmoku, number="312")
    make.fire(make.firing(), tile)

    def look(**fields):
        actions.record_outcome(by=tile.maker, tile=tile, zone="whole", **fields)

    look(surface="satin", verdict="again")
    look(surface="satin", verdict="not_again", faults=[{"kind": "crazing", "where": "inside"}])
    look(surface="glossy", faults=[{"kind": "crazing"}, {"kind": "running"}], damage="ran onto the shelf")
    shown = text_of(member_client.get(at(stack_of(tile))))
    assert "Seen in 3 looks" in shown
    assert "satin ×2 , glossy ×1" in shown
    assert "crazing ×2 , running ×1" in shown
    assert "Ran onto the shelf: Tile 312" in shown
    assert "Take care" in shown


def test_a_look_after_a_firing_that_was_stopped_early_is_no_try(member_client, glazes):
    tile = layered(glazes["Ash Celadon"])
    make.fire(make.firing(), tile, stop=True)
    actions.record_outcome(by=tile.maker, tile=tile, surface="dry", faults=[{"kind": "underfired"}])
    page = at(stack_of(tile))
    assert member_client.get(page).context["sound"].share is None
    make.fire(make.firing(), tile)
    actions.record_outcome(by=tile.maker, tile=tile, surface="satin")
    make.fire(make.firing(kind="refire"), tile, stop=True)
    actions.record_outcome(by=tile.maker, tile=tile, faults=[{"kind": "blistering"}])
    share = member_client.get(page).context["sound"].share
    assert (share.good, share.tries) == (1, 1)


def test_looks_at_another_part_of_the_tile_are_not_this_stacks(member_client, glazes):
    ash, tenmoku, _shino = glazes.values()
    tile = make.tile(layers=[{"glaze": ash, "area": "upper"}, {"glaze": tenmoku, "area": "lower"}])
    make.fire(make.firing(), tile)
    overlap = tile.zones.get(kind="overlap").combination
    actions.record_outcome(by=tile.maker, tile=tile, zone="overlap", surface="matte")
    assert "Seen in 1 look" in text_of(member_client.get(at(overlap)))
    for zone in tile.zones.exclude(kind="overlap"):
        assert "Nobody has noted yet" in text_of(member_client.get(at(zone.combination)))


def test_its_buckets_stand_there_as_they_are_now(member_client, glazes, manager):
    ash, tenmoku, shino = glazes.values()
    flagged, fine, other = make.fill(ash), make.fill(tenmoku), make.fill(shino)
    gone = make.fill(ash)
    shelf.end_fill(by=manager, fill=gone, why="used up")
    tile = layered(ash, tenmoku)
    shelf.raise_flag(by=manager, fill=flagged, kind="contaminated")
    response = member_client.get(at(stack_of(tile)))
    standing = {fill.bucket.code: use for fill, use, _food in response.context["fills"]}
    assert standing == {flagged.bucket.code: "Do not use", fine.bucket.code: "Use it"}
    shown = text_of(response)
    assert f"Ash Celadon {flagged.bucket.code} ■ Do not use Mixed here: not known" in shown
    assert other.bucket.code not in shown
    assert gone.bucket.code not in shown


def test_the_remark_is_the_studios_and_any_member_may_write_it(member_client, glazes):
    ash, tenmoku, _shino = glazes.values()
    combination = stack_of(layered(ash, tenmoku))
    sent = {"remark": "  lovely on porcelain  ", "version": combination.version}
    response = member_client.post(at(combination), sent, follow=True)
    combination.refresh_from_db()
    assert combination.remark == "lovely on porcelain"
    assert "lovely on porcelain" in text_of(response)
    late = member_client.post(at(combination), {"remark": "mine", "version": sent["version"]})
    assert late.status_code == 409
    assert {"mine", "lovely"} <= set(text_of(late).split())


def test_the_stack_of_a_private_tile_is_private_too(client, people, glazes):
    ash, tenmoku, shino = glazes.values()
    shared = layered(ash, tenmoku)
    secret = layered(ash, tenmoku, number="P1", by=people["other"], visibility="mine")
    hidden = layered(shino, ash, number="P2", by=people["other"], visibility="mine")
    make.fire(make.firing(), secret, hidden)
    for tile in (secret, hidden):
        actions.record_outcome(by=people["other"], tile=tile, zone="whole", surface="satin", damage="stuck")
    client.force_login(people["member"])
    rows = {str(c): (c.tile_count, c.look_count) for c in client.get(LIST).context["rows"]}
    assert rows == {"Ash Celadon → Mill Tenmoku": (1, 0)}
    shown = text_of(client.get(at(stack_of(shared))))
    assert "P1" not in shown
    assert "stuck" not in shown.lower()
    assert client.get(at(stack_of(hidden))).status_code == 404
    assert client.post(at(stack_of(hidden)), {"remark": "x"}).status_code == 404
    for role in ("other", "technician"):
        client.force_login(people[role])
        assert "P2" in text_of(client.get(at(stack_of(hidden))))


def test_the_empty_list_offers_the_first_step(member_client):
    assert f'href="{reverse("tiles:log-start")}"' in member_client.get(LIST).content.decode()


def test_more_stacks_and_more_tiles_ask_no_more_queries(member_client, glazes):
    same_for_more(member_client, LIST, lambda n: [layered(make.glaze(), make.glaze()) for _ in range(n)])
    ash, tenmoku, _shino = glazes.values()
    combination = stack_of(layered(ash, tenmoku))

    def more(n):
        for _ in range(n):
            tile = layered(ash, tenmoku, body=make.body())
            make.fill(ash)
            make.fire(make.firing(), tile)
            actions.record_outcome(
                by=tile.maker, tile=tile, zone="whole", faults=[{"kind": "crazing"}], damage="ran"
            )

    same_for_more(member_client, at(combination), more)


def test_a_program_does_not_find_the_stack_of_a_private_tile_either(client, people, glazes):
    ash, tenmoku, shino = glazes.values()
    layered(ash, tenmoku)
    hidden = stack_of(layered(shino, ash, by=people["other"], visibility="mine"))
    client.force_login(people["member"])
    assert [row["text"] for row in client.get("/api/v1/combinations/").json()["results"]] == [
        "Ash Celadon → Mill Tenmoku"
    ]
    assert client.get(f"/api/v1/combinations/{hidden.pk}/").status_code == 404
    client.force_login(people["technician"])
    assert client.get(f"/api/v1/combinations/{hidden.pk}/").status_code == 200


def looked_at(tile, **says):
    return actions.record_outcome(by=tile.maker, tile=tile, zone="whole", surface="satin", **says)


def test_how_often_it_was_sound_is_counted_by_body_and_cone_and_in_all(member_client, people, glazes):
    """Four sound of five on white; one of red refired and not seen since; a private one that does not count."""
    ash, tenmoku, _shino = glazes.values()
    white, red = make.body("Weir White"), make.body("Sluice Red")
    tiles = [layered(ash, tenmoku, body=white) for _ in range(5)] + [layered(ash, tenmoku, body=red)]
    hidden = layered(ash, tenmoku, body=white, by=people["other"], visibility="mine")
    make.fire(make.firing(), *tiles, hidden)
    for tile in [*tiles, hidden]:
        looked_at(tile)
    looked_at(tiles[0], faults=[{"kind": "crazing"}])
    looked_at(hidden, damage="stuck to the shelf")
    make.fire(make.firing(kind="refire"), tiles[5])
    combination = stack_of(tiles[0])
    said = {rail.name: sentence for rail, sentence in member_client.get(at(combination)).context["rails"]}
    # Each limit x solves |0.8 - x| = 1.2816 · sqrt(x(1 - x)/5), worked by hand (Wilson 1927).
    good = "4 of 5 sound; that is 51 to 94 in 100. More often sound than not."
    assert said == {
        "Sluice Red, cone 6 · about 1222\u00a0°C": "Nobody has looked since it was glaze-fired.",
        "Weir White, cone 6 · about 1222\u00a0°C": good,
    }
    page = text_of(member_client.get(at(combination)))
    assert good in page.split("How this is counted")[0]
    assert "not sound" in page
    api = member_client.get(f"/api/v1/combinations/{combination.pk}/").json()
    assert (api["in_all"]["tiles"], api["in_all"]["looked_at"], api["in_all"]["sound"]) == (6, 5, 4)
    assert api["in_all"]["word"] == "mostly"
    assert [(g["body"]["name"], g["cone"], g["looked_at"], g["word"]) for g in api["by_body_and_cone"]] == [
        ("Sluice Red", "6", 0, "cannot_say"),
        ("Weir White", "6", 5, "mostly"),
    ]
    assert api["by_body_and_cone"][0]["low"] is None
    assert [round(api["in_all"][end], 4) for end in ("low", "high")] == [0.5135, 0.9381]
    assert [tried["is_sound"] for tried in api["tiles"]].count(None) == 1
    assert api["damage"] == []


def test_few_tiles_allow_no_word(member_client, glazes):
    ash, *_rest = glazes.values()
    tile = layered(ash)
    make.fire(make.firing(), tile)
    looked_at(tile)
    assert "1 of 1 sound; that is 38 to 100 in 100. Cannot say yet." in text_of(
        member_client.get(at(stack_of(tile)))
    )


def test_damage_at_a_whole_tile_warns_for_every_stack_on_it(member_client, glazes):
    ash, tenmoku, _shino = glazes.values()
    tile = make.tile("77", layers=[{"glaze": ash, "area": "upper"}, {"glaze": tenmoku, "area": "lower"}])
    make.fire(make.firing(), tile)
    actions.record_outcome(by=tile.maker, tile=tile, zone="whole", damage="ran onto the shelf")
    assert tile.zones.count() == 3
    for zone in tile.zones.all():
        assert "Ran onto the shelf: Tile 77" in text_of(member_client.get(at(zone.combination)))
        known = member_client.get(f"/api/v1/combinations/{zone.combination_id}/").json()
        assert [row["tile"]["number"] for row in known["damage"]] == ["77"]
        assert (known["in_all"]["looked_at"], known["in_all"]["sound"]) == (1, 0)


def test_a_look_at_the_whole_is_one_at_each_part_but_a_fault_of_the_overlap_is_its_own(member_client, glazes):
    ash, tenmoku, _shino = glazes.values()
    tile = make.tile("78", layers=[{"glaze": ash, "area": "upper"}, {"glaze": tenmoku, "area": "lower"}])
    make.fire(make.firing(), tile)
    actions.record_outcome(
        by=tile.maker, tile=tile, zone="whole", faults=[{"kind": "crawling", "where": "overlap"}]
    )
    sound = {}
    for zone in tile.zones.all():
        known = member_client.get(f"/api/v1/combinations/{zone.combination_id}/").json()["in_all"]
        assert known["looked_at"] == 1
        sound[zone.kind] = known["sound"]
    assert sound == {"alone": 1, "overlap": 0}


def test_the_api_quotes_the_buckets_as_they_stand(member_client, glazes, manager):
    ash, tenmoku, shino = glazes.values()
    held, _other = make.fill(ash), make.fill(shino)
    shelf.raise_flag(by=manager, fill=held, kind="contaminated")
    known = member_client.get(f"/api/v1/combinations/{stack_of(layered(ash, tenmoku)).pk}/").json()
    assert [(b["bucket"]["code"], b["use"], b["food"]) for b in known["buckets"]] == [
        (held.bucket.code, "do_not_use", "mixed_here")
    ]
