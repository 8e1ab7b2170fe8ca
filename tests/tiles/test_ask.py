"""Ask: each answer with its source and with what this studio's own record says, in as many queries for many tiles."""

import re

import pytest

from inventory import actions as shelf
from inventory.models import Glaze
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles.actions import record_outcome
from tiles.evidence import OF_TILES, evidence_for
from tiles.models import Layer, OutcomeFault
from tiles.questions import CAUTIONS, TOPICS, matching, questions

CRAZED = {"zone": "whole", "faults": [{"kind": "crazing", "where": ""}]}
WELL = {"zone": "whole", "surface": "glossy"}
KINDS = {
    "fault": OutcomeFault.Kind.values,
    "method": Layer.Method.values,
    "ground": Layer.Ground.values,
    "kind": Glaze.Kind.values,
    "layers": ["2"],
    "buckets": ["sg_low", "sg_high", "settled_hard", "dried_out", "contaminated", "wrong_label"],
    "labels": ["all", "labelled"],
    **dict.fromkeys(["all", "bare", "proved"], []),
}


def told(code, person):
    one = next(one for one in questions() if one.code == code)
    return evidence_for([one], person)[code]


def test_twenty_to_thirty_questions_of_every_topic():
    assert 24 <= len(questions()) <= 30
    assert len({one.code for one in questions()}) == len(questions())
    assert {one.topic for one in questions()} == set(TOPICS)
    assert set(CAUTIONS) == {"food", "firing", "health"}


@pytest.mark.parametrize("one", questions(), ids=lambda one: one.code)
def test_each_answer_has_a_source_evidence_and_no_promise(one, member, client):
    assert str(one.source_words)
    kind, _colon, of = one.evidence.partition(":")
    assert set(of.split(",") if of else []) <= set(KINDS[kind])
    assert len(one.answer) < 400
    # A label is quoted; the software has no such word of its own.
    assert not re.search(
        r"\b(safe|approved|certified)\b", one.answer + re.sub("“.*?”", "", one.question), re.I
    )
    if one.wall:
        client.force_login(member)
        assert client.get(f"/wall/?{one.wall}").status_code == 200


def test_food_and_health_stand_beside_a_caution(client, member):
    client.force_login(member)
    page = text_of(client.get("/ask/?q=lemon"))
    assert "only a laboratory can measure it" in page
    assert "What the law asks differs" in text_of(client.get("/ask/?q=dust silica"))
    assert "current that can kill" in text_of(client.get("/ask/?q=open kiln hot"))
    assert "only a laboratory" not in text_of(client.get("/ask/?q=coats brush"))


def test_the_studios_tiles_are_counted_with_their_interval(member, people):
    for look in (CRAZED, WELL, WELL, WELL):
        make.fired_tile(by=member, outcome=look)
    private = make.fired_tile(by=people["other"], visibility="mine", outcome=CRAZED)
    found = told("fine_cracks", member)
    # Wilson, 80 %, reckoned by hand: centre 0.4553 / 1.4106, half width 0.9085 x 0.2693, so 0.078 to 0.567.
    assert found.words == [
        "1 of 4 tiles that were looked at show “crazing”. In the long run that is 8 to 57 in 100."
    ]
    assert [card.number for card in found.cards] == [
        tile.number for tile in [OutcomeFault.objects.exclude(outcome__tile=private).get().outcome.tile]
    ]
    assert found.wall == "/wall/?with_fault=crazing"
    assert told("fine_cracks", people["technician"]).words[0].startswith("2 of 5")


def test_tiles_made_in_a_way_are_counted(member):
    glaze = make.glaze()
    for look in (CRAZED, WELL):
        make.fired_tile(by=member, layers=[{"glaze": glaze, "method": "brush"}], outcome=look)
    make.fired_tile(by=member, layers=[{"glaze": glaze}], outcome=WELL)
    assert (
        told("how_many_coats", member)
        .words[0]
        .startswith("1 of 2 such tiles that were looked at showed no fault.")
    )
    assert told("first_a_tile", member).words[0].startswith("2 of 3")
    assert told("two_glazes", member).words == ["No tile of this studio tells yet. Yours could be the first."]


def test_the_buckets_concerned_are_named(member, people):
    dry = make.fill(make.glaze("Weir Green"))
    shelf.raise_flag(by=member, fill=dry, kind="dried_out")
    make.fill()
    jar = make.fill(
        bucket_=shelf.create_bucket(by=people["other"], owner=people["other"]), by=people["other"]
    )
    shelf.raise_flag(by=people["other"], fill=jar, kind="dried_out")
    found = told("thickened_bucket", member)
    assert found.words == ["One bucket in use is dried out or settled hard."]
    assert [(bucket.code, bucket.words.split(":")[0]) for bucket in found.buckets] == [
        (dry.bucket.code, "Weir Green")
    ]
    assert told("something_got_in", member).words == ["No bucket in use is contaminated or wrongly labelled."]
    label, alone = told("label_says", member).words
    assert label == "0 of 2 buckets in use carry such a label."
    # A count of labels is never more than that, and both answers which count them say so.
    assert alone.startswith("That counts labels and nothing more.")
    assert told("eat_from_it", member).words[-1] == alone


def test_an_empty_studio_tells_that_it_has_nothing_yet(client, member):
    client.force_login(member)
    page = text_of(client.get("/ask/"))
    assert "No tile of this studio tells yet. Yours could be the first." in page
    assert told("label_says", member).words == ["No bucket is in use."]
    assert not re.search(r"\b0 of 0\b|In the long run", page)


def test_searching_opens_the_few_that_are_found(client, member):
    client.force_login(member)
    assert [one.code for one in matching("LEMON vinegar")] == ["lemon_test"]
    assert client.get("/ask/?q=lemon").content.decode().count(" open>") == 1
    # Of all of them the first, so that the page begins with tiles to look at.
    assert client.get("/ask/").content.decode().count(" open>") == 1
    assert "No question has these words." in text_of(client.get("/ask/?q=spaceship"))


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        ("why did my glaze crawl?", "drew_back"),
        ("Crazing", "fine_cracks"),
        ("may I eat from it", "eat_from_it"),
        ("is it poisonous", "eat_from_it"),
        ("my glaze is running", "ran_off"),
        ("how thick must the bucket be", "bucket_thickness"),
    ],
)
def test_a_question_is_found_in_a_beginners_own_words(asked, first):
    found = [one.code for one in matching(asked)]
    assert first in found
    assert len(found) <= 6


def test_what_asks_it_stands_before_what_only_speaks_of_it(client, member):
    assert [one.code for one in matching("may I eat from it")] == ["eat_from_it", "chips"]
    client.force_login(member)
    page = client.get("/ask/?q=eat").content.decode()
    assert page.index('id="food"') < page.index('id="faults"')


def test_words_that_say_nothing_find_all_and_strange_ones_none():
    assert matching("what is it?") == list(questions())
    assert matching("") == list(questions())
    assert matching("why is my spaceship") == []


def test_the_api_says_what_the_page_says(client, member):
    client.force_login(member)
    make.fired_tile(by=member, number="A1", outcome=CRAZED)
    answers = client.get("/api/v1/ask/").json()["answers"]
    assert [one["code"] for one in answers] == [one.code for one in questions()]
    cracks = next(one for one in answers if one["code"] == "fine_cracks")
    assert cracks["tiles"] == ["A1"]
    page = text_of(client.get("/ask/"))
    for one in answers:
        assert one["answer"] in page
        assert " ".join(one["evidence"]) in page
    assert client.get("/api/v1/ask/?topic=food").status_code == 400


def test_more_tiles_and_buckets_ask_no_more_queries(client, member):
    client.force_login(member)
    glaze = make.glaze(sg_low="1.40", sg_high="1.45")

    def more(n):
        for _i in range(n):
            bucket = make.fill(glaze, sg="1.60")
            shelf.raise_flag(by=member, fill=bucket, kind="settled_hard")
            layers = [{"fill": bucket, "method": "brush"}, {"glaze": make.glaze()}]
            tile = make.fired_tile(by=make.person(), layers=layers, outcome=CRAZED)
            faults = [{"kind": kind, "where": ""} for kind in ("running", "pinholing", "crawling")]
            record_outcome(by=member, tile=tile, zone="whole", faults=faults)

    same_for_more(client, "/ask/", more)
    assert {"method", "all"} <= {*OF_TILES}
