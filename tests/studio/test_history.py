"""The history as people read it: in words, findable, and only of what one may see."""

from uuid import UUID

import pytest
from django.urls import reverse

from inventory import actions as shelf
from studio.actions import change, record_change
from studio.history_words import Entry, in_words
from studio.models import Change
from tests import make

HISTORY = "/history/"


def texts(page):
    return [entry.change.object_text for entry in page.context["entries"]]


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (None, "not known"),
        (True, "yes"),
        (False, "no"),
        ("", "left empty"),  # "empty" is a level
        ([], "none"),
        (["inside", "lip"], "inside; lip"),
        ({"coats": 2, "wiped_back": None}, "coats 2, wiped back not known"),
        ([{"fault": "crazing"}, {"fault": "running"}], "fault crazing; fault running"),
        (0, "0"),
        ("1.450", "1.450"),
    ],
)
def test_a_value_is_words_without_brackets_or_quotes(value, words):
    assert in_words(value) == words


def test_before_and_after_stand_side_by_side_in_the_records_own_words(client, manager, member):
    bucket = make.bucket(by=manager)
    fill = make.fill(make.glaze("Weir Green"), bucket_=bucket)
    flag = shelf.raise_flag(by=member, fill=fill, kind="settled_hard")
    change = record_change(
        by=member,
        verb="changed",
        obj=fill,
        before={"level": "half", "label": "", "ended_at": None, "of old": 1},
        after={"level": "quarter", "ended_at": "2026-03-04T13:05:00+00:00", "lot": "A7"}
        | {"kind": "topped_up", "volume_ml": 4000, "put_right_at": "2026-03-04T13:05:00.4+00:00"}
        | {"photo": str(bucket.pk)},  # a key: for programs alone
    )
    assert flag
    make.Studio.objects.update(time_zone="Europe/Dublin")
    client.force_login(manager)
    address = reverse("studio:history-of", args=["inventory.fill", fill.pk])
    html = client.get(address).content.decode()
    rows = [
        ("level", "half", "a quarter"),
        ("ended", "not known", "4 March 2026, 13:05"),
        ("lot", "", "A7"),
        ("of old", "1", ""),
        ("kind", "", "topped up"),  # of an entry: the fill has no such field
        ("volume (mL)", "", "4000"),
        ("put right at", "", "4 March 2026, 13:05"),
    ]
    for _label, before, after in rows:
        assert f"<td>{before}</td><td>{after}</td>" in html
    assert [line.label for line in Entry(change).lines][3:5] == ["of old", "batch or lot"]
    assert str(bucket.pk) not in html.split("<article")[1]
    assert member.name in html
    assert "{" not in html.split("<article")[1].split("</article")[0]


def test_a_kind_that_is_gone_can_still_be_read(client, manager):
    Change.objects.create(
        actor_name="Wren", verb="changed", kind="tiles.forgotten", object_id=manager.pk,
        object_text="An old thing", before={"old_name": 1},
    )  # fmt: skip
    client.force_login(manager)
    html = client.get(HISTORY).content.decode()
    assert "An old thing" in html
    assert "old name" in html


def test_the_whole_history_can_be_asked_by_kind_person_verb_and_words(client, people):
    manager, technician = people["manager"], people["technician"]
    ash = make.glaze("Ash White", by=technician)
    iron = make.glaze("Iron Red", by=manager)
    shelf.change_glaze(by=manager, obj=iron, values={"remark": "thin"}, version=1)
    make.body("Weir Stoneware")
    client.force_login(technician)

    def ask(**query):
        return set(texts(client.get(HISTORY, query)))

    assert ask() == {"Ash White", "Iron Red", "Weir Stoneware"}
    assert ask(kind="inventory.glaze") == {"Ash White", "Iron Red"}
    assert ask(actor=technician.pk) == {"Ash White"}
    assert ask(verb="changed") == {"Iron Red"}
    assert ask(q="red iron") == {"Iron Red"}
    assert ask(q=technician.name) == {"Ash White"}
    assert ask(object=ash.pk) == {"Ash White"}
    assert ask(kind="inventory.glaze", verb="created", q="red") == {"Iron Red"}


@pytest.mark.parametrize(
    ("query", "sentence"),
    [
        ({"verbs": "changed"}, "There is no filter verbs. Did you mean verb?"),
        ({"kind": "nonsense"}, "nonsense is not one of the available choices"),
        ({"actor": "nobody"}, "is not a valid UUID"),
    ],
)
def test_a_question_that_makes_no_sense_is_refused_by_name(client, technician, query, sentence):
    make.glaze()
    client.force_login(technician)
    page = client.get(HISTORY, query)
    assert page.status_code == 400
    assert sentence in page.content.decode().replace("&quot;", "").replace("“", "").replace("”", "")
    assert texts(page) == []


def test_pages_hold_every_row_once_newest_first(client, technician):
    for n in range(130):
        record_change(by=technician, verb="changed", obj=technician, reason=f"row {n}")
    client.force_login(technician)
    seen, address = [], HISTORY
    while address:
        page = client.get(address)
        seen += [entry.change.reason for entry in page.context["entries"]]
        address = page.context["next_url"]
    assert seen == [f"row {n}" for n in reversed(range(130))]
    broken = client.get(HISTORY, {"cursor": "nonsense"})
    assert broken.status_code == 400
    assert "This cursor is not one of ours" in broken.content.decode()


def test_the_history_of_a_tile_is_for_those_who_see_the_tile(client, people):
    tile = make.tile(by=people["other"], visibility="mine")
    address = reverse("studio:history-of", args=["tiles.tile", tile.pk])
    for role, code in (("member", 404), ("other", 200), ("technician", 200)):
        client.force_login(people[role])
        assert client.get(address).status_code == code


def test_what_does_not_differ_is_no_news(manager):
    glaze = make.glaze("Ash White", by=manager, sg_low="1.450", sg_high="1.500")
    before = Change.objects.count()
    change(by=manager, obj=glaze, values={"sg_low": "1.45", "name": "Ash White"})
    assert Change.objects.count() == before
    change(by=manager, obj=glaze, values={"sg_low": "1.46", "name": "Ash White"})
    assert Change.objects.latest("at").after == {"sg_low": "1.46"}


@pytest.mark.parametrize(("role", "status"), [("member", 404), ("technician", 200), ("manager", 200)])
def test_the_studio_s_own_history_by_the_api(client, people, role, status):
    """The studio's key is a number, which stands in the UUID."""
    client.force_login(people[role])
    answer = client.get(f"/api/v1/changes/?kind=studio.studio&object={UUID(int=1)}")
    assert answer.status_code == status
    assert client.get(f"/history/studio.studio/{UUID(int=2**127)}/").status_code == 404
