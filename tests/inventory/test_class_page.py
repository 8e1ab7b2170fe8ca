"""`/class/<secret>/`: no log-in, no names, cautions first, and nothing offered that cannot be used."""

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import ClassEntry, ClassList, StockEntry
from studio.errors import Refused
from studio.models import Change
from tests import make

NAME = "Zebedee Quillfeather"


@pytest.fixture
def blue(studio):
    return make.glaze("Weir Blue", origin="bought", health_statement="Keep out of reach of dragons.")


@pytest.fixture
def fill(blue):
    return make.fill(blue, child_fit="yes", level="half")


@pytest.fixture
def teacher(studio):
    return make.person("member", name=f"{NAME} the Teacher")


def offered(page: str) -> set[str]:
    return set(re.findall(r'name="fill" value="([0-9a-f-]+)"', page))


def read(client, class_list) -> str:
    answer = client.get(class_list.page_path)
    assert answer.status_code == 200
    return answer.content.decode()


def test_it_needs_no_log_in_and_is_kept_out_of_search_caches_and_referrers(client, fill):
    answer = client.get(make.class_list(fill).page_path)
    assert answer.status_code == 200
    assert answer["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer["X-Robots-Tag"]
    assert "no-store" in answer["Cache-Control"]
    assert not answer.cookies
    assert '<meta name="robots" content="noindex' in answer.content.decode()


def test_nobody_is_named_wherever_a_name_was_written(client, blue, teacher):
    """Names in every place that holds a person, and in every remark; also for somebody who is logged in."""
    technician = make.person("technician", name=f"{NAME} the Technician")
    jar = make.bucket(by=teacher, owner=teacher, remark=f"of {NAME}")
    own = make.fill(blue, bucket_=jar, by=teacher, label="none", child_fit="yes", remark=f"by {NAME}")
    flagged = make.fill(blue, by=technician, label="food_safe", sg="1.45", remark=NAME)
    asked = make.fill(blue, by=technician, level="half", remark=NAME)
    made = make.class_list(own, flagged, asked, by=teacher)
    shelf.raise_flag(by=teacher, fill=flagged, kind="contaminated", note=f"{NAME} dropped a brush")
    shelf.raise_flag(by=teacher, fill=asked, kind="other", note=f"ask {NAME}")
    shelf.add_class_entry(
        class_list=made, fill=own, makers=2, volume_ml=Decimal(90), remark=f"{NAME} was here"
    )
    entry = ClassEntry.objects.get()
    for viewer in (None, technician):
        if viewer:
            client.force_login(viewer)
        for address in (made.page_path, f"{made.page_path}?noted={entry.pk}"):
            page = client.get(address).content.decode()
            assert "Quillfeather" not in page
            assert "Zebedee" not in page
        refused = client.post(made.page_path, {"makers": "", "fill": str(flagged.pk)}).content.decode()
        assert "Zebedee" not in refused
    shelf.close_class_list(by=teacher, obj=made)
    assert "Zebedee" not in client.get(made.page_path).content.decode()


def test_cautions_come_before_the_buckets_and_for_children_there_are_more(client, fill):
    page = read(client, make.class_list(fill))
    words = [
        "Do not sweep or sand",
        "Wear gloves",
        "Nothing to eat",
        "Wash hands",
        "only what is on this list",
    ]
    words += ["container’s own sheet", "Weir Blue"]
    places = [page.index(w) for w in words]
    assert max(places[:-1]) < places[-1]
    assert "No spraying" not in page
    children = read(client, make.class_list(fill, for_children=True))
    assert children.index("No spraying") < children.index("Weir Blue")
    assert "with an adult" in children
    assert "Keep out of reach of dragons." in children


def test_both_answers_are_said_with_their_reasons(client, blue):
    dry = make.fill(blue, label="not_for_food")
    shelf.raise_flag(by=make.manager(), fill=dry, kind="dried_out")
    page = read(client, make.class_list(dry))
    assert "Ask first" in page
    assert "It has dried out" in page
    assert "Keep away from food" in page
    assert "Its label says “not for food”" in page
    assert offered(page) == {str(dry.pk)}


def test_what_is_barred_ended_or_unfit_is_said_and_never_offered(client, blue, fill, people):
    flagged, ended, unfit = (make.fill(blue, child_fit="yes") for _i in range(3))
    made = make.class_list(fill, flagged, ended, unfit, for_children=True)
    assert offered(read(client, made)) == {str(f.pk) for f in (fill, flagged, ended, unfit)}
    shelf.raise_flag(by=people["member"], fill=flagged, kind="contaminated")
    shelf.end_fill(by=people["manager"], fill=ended, why="used up")
    shelf.change_fill(by=people["manager"], obj=unfit, values={"child_fit": "nothing"})
    page = read(client, made)
    assert offered(page) == {str(fill.pk)}
    for sentence in (
        "Something else has got into it",
        "This bucket was emptied.",
        "not noted as fit for children any more",
    ):
        assert sentence in page
    for bad in (flagged, ended, unfit):
        answer = client.post(made.page_path, {"fill": str(bad.pk), "makers": "4"})
        assert "That bucket is not offered now." in answer.content.decode()
        with pytest.raises(Refused):
            shelf.add_class_entry(class_list=made, fill=bad, makers=4)
    elsewhere = make.fill(blue, child_fit="yes")
    with pytest.raises(Refused, match="not on the list"):
        shelf.add_class_entry(class_list=made, fill=elsewhere, makers=4)
    assert not ClassEntry.objects.exists()


def test_one_entry_for_many_makers_moves_the_balance_and_the_history_names_the_class(client, fill, teacher):
    made = make.class_list(fill, by=teacher)
    fill.refresh_from_db()
    before = fill.balance_ml
    answer = client.post(
        made.page_path,
        {"fill": str(fill.pk), "makers": "12", "pieces": "30", "volume_ml": "750,5", "remark": "two coats"},
    )
    assert answer.status_code == 302
    entry = ClassEntry.objects.get()
    assert (entry.makers, entry.pieces, entry.taken_ml) == (12, 30, Decimal("750.5"))
    fill.refresh_from_db()
    assert fill.balance_ml == before - Decimal("750.5")
    assert StockEntry.objects.filter(kind="taken_out").get().remark == made.name
    used = Change.objects.filter(object_id=fill.pk).exclude(verb="created").order_by("id")
    said = [(c.actor, c.actor_name) for c in used if c.verb in ("stock", "used by a class")][-2:]
    assert said == [(None, made.name)] * 2
    page = client.get(answer["Location"]).content.decode()
    assert "12 makers. Thank you." in page


def test_a_page_that_is_sent_twice_counts_once(client, fill):
    made = make.class_list(fill)
    key = re.search(r'name="id" value="([0-9a-f-]+)"', read(client, made)).group(1)
    for _i in range(2):
        answer = client.post(made.page_path, {"id": key, "fill": str(fill.pk), "makers": "3"})
        assert answer.status_code == 302
    assert ClassEntry.objects.count() == 1


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("makers", "0", "Write a number from 1 to 200."),
        ("makers", "many", "Write a number from 1 to 200."),
        ("volume_ml", "99999", "more than the bucket holds (10000 mL)"),
        ("volume_ml", "-5", "above 0 mL"),
    ],
)
def test_bad_input_keeps_what_was_typed(client, fill, field, value, sentence):
    made = make.class_list(fill)
    sent = {"fill": str(fill.pk), "makers": "7", "pieces": "21", "volume_ml": "100", "remark": "thin coat"}
    answer = client.post(made.page_path, {**sent, field: value})
    page = answer.content.decode()
    assert sentence in page
    for name in ("makers", "pieces", "volume_ml", "remark"):
        assert f'value="{ {**sent, field: value}[name] }"' in page
    assert re.search(rf'value="{fill.pk}"[^>]* checked', page)
    assert not ClassEntry.objects.exists()
    assert not StockEntry.objects.filter(kind="taken_out").exists()


def test_what_was_typed_stays_when_the_last_bucket_is_barred_meanwhile(client, fill, people):
    made = make.class_list(fill)
    shelf.raise_flag(by=people["member"], fill=fill, kind="contaminated")
    assert offered(read(client, made)) == set()
    page = client.post(
        made.page_path, {"fill": fill.pk, "makers": "12", "remark": "blue mugs"}
    ).content.decode()
    assert "That bucket is not offered now." in page
    assert 'value="12"' in page
    assert 'value="blue mugs"' in page


def test_it_closes_with_the_account_of_whoever_answers_for_it(client, fill, teacher):
    made = make.class_list(fill, by=teacher)
    assert list(ClassList.objects.open()) == [made]
    type(teacher).objects.filter(pk=teacher.pk).update(is_active=False)
    assert client.get(made.page_path).status_code == 410
    assert not ClassList.objects.open().exists()
    assert list(ClassList.objects.not_open()) == [made]


def test_closed_ended_coming_and_unknown_addresses_are_answered_kindly(client, fill):
    today = timezone.localdate()
    closed, ended, coming = (make.class_list(fill) for _i in range(3))
    shelf.close_class_list(by=make.manager(), obj=closed)
    ClassList.objects.filter(pk=ended.pk).update(
        starts_on=today - timedelta(days=9), ends_on=today - timedelta(days=1)
    )
    ClassList.objects.filter(pk=coming.pk).update(starts_on=today + timedelta(days=1))
    for path, status, words in (
        (closed.page_path, 410, "This class list is over"),
        (ended.page_path, 410, "This class list is over"),
        (coming.page_path, 404, "Not yet"),
        ("/class/guessed/", 404, "No class list here"),
    ):
        for answer in (client.get(path), client.post(path, {"fill": str(fill.pk), "makers": "3"})):
            assert answer.status_code == status
            assert words in answer.content.decode()
            assert "Weir Blue" not in answer.content.decode()
            assert answer["Referrer-Policy"] == "no-referrer"
    for made in (closed, ended, coming):
        made.refresh_from_db()
        with pytest.raises(Refused, match="not open"):
            shelf.add_class_entry(class_list=made, fill=fill, makers=3)


def test_with_a_new_address_the_old_one_shows_nothing(client, fill):
    made = make.class_list(fill)
    old = made.page_path
    shelf.new_address(by=make.manager(), obj=made)
    assert client.get(old).status_code == 404
    assert client.get(made.page_path).status_code == 200


def test_a_day_takes_two_hundred_entries_and_the_next_begins_anew(client, fill):
    made, now = make.class_list(fill), timezone.now()
    ClassEntry.objects.bulk_create(
        ClassEntry(class_list=made, fill=fill, makers=1, created_at=now) for _i in range(199)
    )
    assert client.post(made.page_path, {"fill": str(fill.pk), "makers": "1"}).status_code == 302
    answer = client.post(made.page_path, {"fill": str(fill.pk), "makers": "1", "remark": "the last"})
    assert "There are 200 entries of today already" in answer.content.decode()
    assert 'value="the last"' in answer.content.decode()
    assert ClassEntry.objects.count() == 200
    ClassEntry.objects.update(created_at=now - timedelta(days=1))
    assert client.post(made.page_path, {"fill": str(fill.pk), "makers": "1"}).status_code == 302


def test_twelve_buckets_cost_as_many_queries_as_three(client, blue):
    def cost(count):
        made = make.class_list(*[make.fill(blue, level="half", sg="1.45") for _i in range(count)])
        with CaptureQueriesContext(
            connection,
        ) as queries:
            read(client, made)
        return len(queries)

    assert cost(3) == cost(12)
