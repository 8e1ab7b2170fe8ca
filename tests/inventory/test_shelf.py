"""The shelf: every bucket by place in walking order, one query for page and fragment, and no query per bucket."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inventory import actions as shelf
from tests import make
from tests.reading import text_of

SHELF = "/shelf/"


def codes(answer):
    return [row["bucket"].code for row in answer.context["lids"]]


@pytest.fixture
def stocked(manager, member):
    """{name: bucket}: one of each standing, at three places, and an own jar."""
    far, near = (
        shelf.create_place(by=manager, name=name, order=order)
        for name, order in (("A far shelf", 2), ("Z near shelf", 1))
    )
    window = {"sg_low": Decimal("1.44"), "sg_high": Decimal("1.50")}
    green = make.glaze("Weir Green", by=manager, **window)
    clear = make.glaze("Sluice Clear", by=manager, origin="bought")
    found = {
        "far": make.fill(green, bucket_=make.bucket(place=far), sg="1.47").bucket,
        "near": make.fill(green, bucket_=make.bucket(place=near), sg="1.60").bucket,
        "label": make.fill(clear, bucket_=make.bucket(place=near), label="food_safe").bucket,
        "empty": make.bucket(place=far),
        "loose": make.bucket(remark="the dented one"),
        "jar": make.fill(clear, bucket_=make.bucket(by=member, owner=member), by=member).bucket,
    }
    shelf.raise_flag(by=member, fill=found["label"].fill, kind="contaminated")
    return found


def test_buckets_stand_in_walking_order_with_standing_in_words(client, member, stocked):
    client.force_login(member)
    answer = client.get(SHELF)
    places = [row["bucket"].place and row["bucket"].place.name for row in answer.context["lids"]]
    assert places == ["Z near shelf", "Z near shelf", "A far shelf", "A far shelf", None, None]
    page = answer.content.decode()
    for word in ("Use it", "Ask first", "Do not use", "Its label says “food safe”", "Mixed here: not known"):
        assert word in page


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        ({"use": "use"}, {"far", "jar"}),
        ({"use": "ask"}, {"near"}),
        ({"use": "do_not_use"}, {"label"}),
        ({"food": "label_food_safe"}, {"label"}),
        ({"q": "weir"}, {"far", "near"}),
        ({"q": "dented"}, {"loose"}),
        ({"q": "weir", "use": "ask"}, {"near"}),
        ({"q": "nothing like it"}, set()),
    ],
)
def test_page_and_fragment_answer_alike(client, member, stocked, asked, wanted):
    client.force_login(member)
    page = client.get(SHELF, asked)
    fragment = client.get(SHELF, asked, headers={"HX-Request": "true"})
    assert set(codes(page)) == {stocked[name].code for name in wanted}
    assert codes(fragment) == codes(page)
    assert "<html" in page.content.decode()
    assert "<html" not in fragment.content.decode()
    assert "HX-Request" in fragment["Vary"]


def test_going_back_in_the_browser_brings_the_whole_page(client, member, stocked):
    client.force_login(member)
    headers = {"HX-Request": "true", "HX-History-Restore-Request": "true"}
    assert "<html" in client.get(SHELF, headers=headers).content.decode()


def test_place_and_glaze_narrow_it_down(client, member, stocked):
    client.force_login(member)
    near = stocked["near"]
    assert set(codes(client.get(SHELF, {"place": near.place_id}))) == {near.code, stocked["label"].code}
    assert set(codes(client.get(SHELF, {"glaze": near.fill.glaze_id}))) == {near.code, stocked["far"].code}


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"usage": "ask"}, "There is no filter usage. Did you mean use?"),
        ({"use": "maybe"}, "Select a valid choice. maybe is not one of the available choices."),
        ({"cursor": "xyz"}, "This cursor is not one of ours."),
    ],
)
def test_what_is_not_understood_is_said_and_shows_no_bucket(client, member, stocked, asked, sentence):
    client.force_login(member)
    answer = client.get(SHELF, asked)
    assert sentence in answer.content.decode()
    assert codes(answer) == []


def test_an_empty_shelf_offers_the_first_step(client, technician):
    client.force_login(technician)
    page = client.get(SHELF).content.decode()
    assert "Every glaze bucket will stand here" in page
    assert f'href="{reverse("inventory:bucket-new")}"' in page


def test_pages_of_the_shelf_show_every_bucket_once(client, member, manager):
    places = [shelf.create_place(by=manager, name=f"Shelf {n}", order=1) for n in range(3)] + [None]
    made = {make.bucket(place=places[n % 4]).code for n in range(65)}
    client.force_login(member)
    first = client.get(SHELF)
    second = client.get(first.context["next_url"])
    assert len(codes(first)) == 60
    assert sorted(codes(first) + codes(second)) == sorted(made)


@pytest.mark.parametrize("address", [SHELF, "/b/{code}", "/glazes/{glaze}/"])
def test_the_number_of_queries_does_not_grow(client, member, stocked, address):
    far = stocked["far"]
    address = address.format(code=far.code, glaze=far.fill.glaze_id)
    client.force_login(member)
    client.get(address)
    with CaptureQueriesContext(
        connection,
    ) as few:
        client.get(address)
    for n in range(6):
        bucket = make.bucket(place=shelf.create_place(by=make.manager(), name=f"New {n}", parent=far.place))
        fill = make.fill(far.fill.glaze, bucket_=bucket, sg="1.47")
        shelf.raise_flag(by=member, fill=fill, kind="contaminated")
        shelf.add_reading(by=member, fill=far.fill, specific_gravity=Decimal("1.46"))
        shelf.add_stock_entry(by=member, fill=far.fill, kind="level", level="half")
    with CaptureQueriesContext(connection) as many:
        client.get(address)
    assert len(many) == len(few)


def test_lead_that_somebody_read_is_not_found_under_a_favourable_label(client, member, technician):
    """Whatever its container says: the lid, the counts, the API and the bucket's page say to keep it away."""
    fill = make.fill(make.glaze("Old Red", origin="bought"), label="food_safe")
    other = make.fill(make.glaze("Weir Blue", origin="bought"), label="food_safe")
    shelf.note_substance(by=technician, glaze=fill.glaze, substance="Pb", read_in="maker")
    client.force_login(member)
    for asked, expected in (("label_food_safe", other), ("keep_from_food", fill)):
        rows = client.get("/api/v1/buckets/", {"food": asked}).json()["results"]
        assert [row["code"] for row in rows] == [expected.bucket.code]
        page = text_of(client.get("/shelf/", {"food": asked}))
        assert (expected.glaze.name in page, expected.bucket.code in page) == (True, True)
    # Asked what its label says it is there, with a word.
    lids = client.get("/shelf/", {"label": "food_safe"}).content.decode().partition('id="lids"')[2]
    assert lids.count("Keep away from food") == lids.count("Its label says") == 1
    assert "Something toxic is noted of the glaze" in text_of(client.get(f"/b/{fill.bucket.code}"))
