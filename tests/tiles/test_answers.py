"""What is said against a layer is read before it is saved, and answered with a reason that stays with the tile."""

import pytest
from django.urls import reverse

from inventory import actions as shelf
from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tiles.actions import acknowledge, add_layer, take_set
from tiles.models import Acknowledgement, Layer
from tiles.planning import findings_for
from tiles.said import said_of


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def bad():
    """A bucket into which something else has got."""
    fill = make.fill()
    shelf.raise_flag(by=make.manager(), fill=fill, kind="contaminated")
    return fill


def sent_layer(**fields):
    return {"method": "dip", "coats": 1, "area": "whole", "ground": "bisque", **fields}


def underglazed(by):
    return make.tile("U1", by=by, layers=[{"glaze": make.glaze("Cobalt Wash", kind="wash")}])


def pages(tile):
    """Where a layer is saved: the log of one tile, and the page of a set."""
    return [reverse("tiles:log", args=[tile.number]), reverse("tiles:log-set")]


@pytest.mark.parametrize("page", [0, 1], ids=["one tile", "a set"])
def test_a_stop_comes_back_once_with_everything_typed_and_is_then_saved(mine, member, bad, page):
    tile = make.tile(by=member)
    take_set(by=member, tiles=[tile])
    address, sent = pages(tile)[page], sent_layer(other_fill=bad.pk, tool="the wide brush")
    answer = mine.post(address, sent)
    assert answer.context["is_unseen"]
    assert "Save it anyway" in answer.content.decode()
    assert answer.context["form"]["tool"].value() == "the wide brush"
    assert not Layer.objects.exists()
    seen = [finding.key for finding in answer.context["findings"]]
    assert f'name="seen" value="{seen[0]}"' in answer.content.decode()
    # Another bucket's finding was not read by reading this one's.
    other = make.fill()
    shelf.raise_flag(by=make.manager(), fill=other, kind="wrong_label")
    assert mine.post(address, sent_layer(other_fill=other.pk, seen=seen)).context["is_unseen"]
    mine.post(address, {**sent, "seen": seen})
    assert tile.layers.get().fill == bad


def test_a_note_does_not_hold_anybody_up_and_a_saved_layer_leaves_the_next_one_in_peace(mine, member, bad):
    tile = make.tile(by=member)
    page, check = pages(tile)[0], reverse("tiles:layer-check", args=[tile.number])
    found = mine.post(check, sent_layer(other_fill=bad.pk)).context["findings"]
    answer = mine.post(page, sent_layer(other_fill=bad.pk, seen=[f.key for f in found]), follow=True)
    assert answer.context["findings"] == []
    assert [finding.code for finding in answer.context["said"]] == ["fill_do_not_use"]
    mine.post(page, sent_layer(glaze=make.glaze().pk))
    assert tile.layers.count() == 2


def test_an_answer_is_kept_with_name_and_reason_wherever_the_tile_is_read(mine, member):
    tile = underglazed(member)
    (said,) = said_of(tile)
    mine.post(reverse("tiles:finding-answer", args=["U1"]), {"key": said.key, "reason": "it is meant to rub"})
    for address in ("/t/U1", "/t/U1/log"):
        shown = text_of(mine.get(address))
        assert said.sentence in shown
        assert f"Answered by {member.name}" in shown
        assert "it is meant to rub" in shown
    found = mine.get(reverse("api-tiles-findings", args=[tile.pk])).json()["findings"]
    assert [(f["answer"]["reason"], f["answer"]["by"]["name"]) for f in found] == [
        ("it is meant to rub", member.name)
    ]
    # A glaze over it: it is said no more, and the answer stays with the tile.
    add_layer(by=member, tile=tile, glaze=make.glaze())
    assert said_of(tile) == []
    assert "it is meant to rub" in text_of(mine.get("/t/U1"))
    kept = mine.get(reverse("api-tiles-detail", args=[tile.pk])).json()["answers"]
    assert [row["sentence"] for row in kept] == [said.sentence]
    assert Change.objects.get(verb="acknowledged").reason == "it is meant to rub"


@pytest.mark.parametrize("reason", ["", "   "])
def test_no_reason_no_answer_and_what_was_asked_is_open_again(mine, member, reason):
    tile = underglazed(member)
    (said,) = said_of(tile)
    answer = mine.post(reverse("tiles:finding-answer", args=["U1"]), {"key": said.key, "reason": reason})
    assert "Say why this is all right" in answer.content.decode()
    assert not Acknowledgement.objects.exists()


def test_a_stop_of_a_bucket_is_for_technicians_and_one_of_the_kiln_for_whoever_loads(member, technician, bad):
    tile = make.tile(by=member, body=make.body(low="04", high="02"), layers=[{"fill": bad}])
    (said,) = said_of(tile)
    with pytest.raises(NotAllowed):
        acknowledge(by=member, tile=tile, key=said.key, reason="only a little")
    acknowledge(by=technician, tile=tile, key=said.key, reason="sieved since; for the test only")
    with pytest.raises(Refused, match="answered this already"):
        acknowledge(by=technician, tile=tile, key=said.key, reason="again")
    firing = make.firing()
    stop = next(f for f in findings_for(tile, firing=firing) if f.code == "body_outside_cone")
    with pytest.raises(Refused, match="load it all the same"):
        acknowledge(by=technician, tile=tile, key=stop.key, firing=firing, reason="in a dish")


def test_one_reason_answers_the_new_layer_on_every_tile_of_a_set(mine, member):
    tiles = [make.tile(by=member) for _i in range(3)]
    take_set(by=member, tiles=tiles)
    sent = sent_layer(glaze=make.glaze(kind="underglaze").pk)
    seen = [finding.key for finding in mine.post(reverse("tiles:log-set"), sent).context["findings"]]
    mine.post(reverse("tiles:log-set"), {**sent, "seen": seen, "answer": "bare on purpose"})
    assert {a.tile for a in Acknowledgement.objects.filter(reason="bare on purpose")} == {*tiles}
