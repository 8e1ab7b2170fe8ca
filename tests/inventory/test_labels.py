"""Labels for lids: several on a sheet, what was printed, and which lids no longer say what is in their bucket."""

import re

import pytest

from inventory import actions as shelf
from inventory.models import Bucket
from studio.models import Change
from studio.roles import NotAllowed
from tests import make

PUBLIC = "https://clay.example"


@pytest.fixture
def fill(studio):
    return make.fill(make.glaze("Weir Blue", origin="bought"), label="none")


@pytest.fixture
def public(settings):
    settings.PUBLIC_URL = PUBLIC


def wanted(client) -> dict[str, str]:
    """Lid code -> why, of the boxes that are ticked."""
    page = client.get("/labels/").content.decode()
    rows = re.findall(r'value="(\w{6})" checked>.*?<p class="soft">(.*?)</p>', page, re.S)
    return dict(rows)


def print_and_note(client, *codes):
    page = client.get("/labels/", {"bucket": codes}).content.decode()
    said = dict(re.findall(r'name="(text_\w{6})" value="([^"]*)"', page))
    assert len(said) == len(codes)
    assert client.post("/labels/", said).status_code == 302


def test_the_list_shows_what_was_never_printed_and_what_says_something_else_by_now(
    client, technician, fill, public
):
    client.force_login(technician)
    code = fill.bucket.code
    assert wanted(client) == {code: "Never printed."}
    print_and_note(client, code)
    assert wanted(client) == {}

    flag = shelf.raise_flag(by=technician, fill=fill, kind="not_for_food")
    assert "kept away from food now" in wanted(client)[code]
    print_and_note(client, code)
    assert wanted(client) == {}

    shelf.clear_flag(by=technician, flag=flag, outcome="mistaken", note="another bucket was meant")
    assert "no longer noted" in wanted(client)[code]
    print_and_note(client, code)

    shelf.end_fill(by=technician, fill=fill, why="used up")
    assert wanted(client)[code] == "Its label says Weir Blue; in it now: nothing."
    make.fill(make.glaze("Millrace Ash"), bucket_=Bucket.objects.get(code=code))
    assert wanted(client)[code] == "Its label says Weir Blue; in it now: Millrace Ash."
    print_and_note(client, code)
    assert wanted(client) == {}


def test_a_use_that_changes_by_the_hour_asks_for_no_paper(client, technician, fill, public):
    client.force_login(technician)
    print_and_note(client, fill.bucket.code)
    shelf.raise_flag(by=technician, fill=fill, kind="contaminated")
    assert wanted(client) == {}


def test_one_sheet_holds_several_labels_each_with_its_code_and_address(client, member, fill, public):
    other = make.fill(make.glaze("Millrace Ash"))
    shelf.raise_flag(by=member, fill=other, kind="not_for_food")
    client.force_login(member)
    codes = [fill.bucket.code, other.bucket.code]
    page = client.get("/labels/", {"bucket": [*codes, "ZZZZZZ"]}).content.decode()
    assert page.count('class="lid-label"') == 2
    assert page.count('class="qr"') == 2
    for code in codes:
        assert f'aria-label="{PUBLIC}/b/{code}"' in page
    assert page.count("Keep away from food") == 1
    assert "No lid has the code ZZZZZZ." in page
    # Noting is for whoever keeps the buckets.
    assert "These were printed" not in page


def test_without_a_public_address_no_label_is_shown_and_why_is_said(client, technician, fill, settings):
    settings.PUBLIC_URL = ""
    client.force_login(technician)
    for address in ("/labels/", f"/labels/?bucket={fill.bucket.code}", f"/b/{fill.bucket.code}/label"):
        page = client.get(address).content.decode()
        assert "TILEKEEP_PUBLIC_URL" in page
        assert 'class="qr"' not in page
        assert "These were printed" not in page


def test_what_the_paper_said_is_kept_even_when_the_bucket_changed_while_it_was_printed(
    client, technician, fill, public
):
    client.force_login(technician)
    code = fill.bucket.code
    page = client.get("/labels/", {"bucket": code}).content.decode()
    said = dict(re.findall(r'name="(text_\w{6})" value="([^"]*)"', page))
    shelf.raise_flag(by=technician, fill=fill, kind="not_for_food")
    client.post("/labels/", said)
    assert "kept away from food now" in wanted(client)[code]


def test_who_noted_the_printing_is_in_the_history_once_for_the_sheet(people, fill):
    other = make.fill()
    said = {fill.bucket: "Weir Blue", other.bucket: "Ash"}
    shelf.note_labels_printed(by=people["technician"], buckets=said)
    rows = Change.objects.filter(verb="printed the label")
    assert {(r.object_id, r.after["label"]) for r in rows} == {
        (fill.bucket.pk, "Weir Blue"),
        (other.bucket.pk, "Ash"),
    }
    assert len({r.batch for r in rows}) == 1
    with pytest.raises(NotAllowed):
        shelf.note_labels_printed(by=people["member"], buckets=said)
    jar = make.bucket(by=people["member"], owner=people["member"])
    shelf.note_labels_printed(by=people["member"], buckets={jar: ""})
    jar.refresh_from_db()
    assert jar.label_printed_text == ""
