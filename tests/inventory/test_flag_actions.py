"""The pages on which a flag is raised, added to, taken back and cleared."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Flag
from tests import make


@pytest.fixture
def fill(manager):
    return make.fill(make.glaze("Weir Green", by=manager), by=manager)


@pytest.fixture
def flag(fill, member):
    return shelf.raise_flag(by=member, fill=fill, kind="contaminated", note="blue specks")


@pytest.fixture
def raising(fill):
    return reverse("inventory:flag-new", args=[fill.bucket.code])


def day(n):
    return (timezone.localdate() - timedelta(days=n)).isoformat()


def test_a_flag_is_raised_for_the_whole_fill_unless_a_day_is_given(client, member, raising, fill):
    client.force_login(member)
    answer = client.post(raising, {"kind": "contaminated", "note": "blue specks"}, follow=True)
    flag = Flag.objects.get()
    assert (flag.fill, flag.kind, flag.note, flag.since, flag.raised_by) == (
        fill,
        "contaminated",
        "blue specks",
        None,
        member,
    )
    assert "Do not use" in answer.content.decode()
    client.post(raising, {"kind": "dried_out", "since": day(4)})
    since = timezone.localtime(Flag.objects.get(kind="dried_out").since)
    assert (since.date().isoformat(), since.hour, since.minute) == (day(4), 0, 0)


def test_a_second_report_says_that_it_joined(client, people, raising, flag):
    client.force_login(people["other"])
    answer = client.post(raising, {"kind": "contaminated", "note": "mine too"}, follow=True)
    assert "was added to it as a note" in answer.content.decode()
    assert "mine too" in answer.content.decode()
    assert Flag.objects.count() == 1


def test_a_page_left_open_flags_nothing_else(client, member, technician, raising, fill):
    """The bucket was emptied and filled with another glaze while the phone slept."""
    shelf.end_fill(by=technician, fill=fill, why="used up")
    make.fill(bucket_=fill.bucket)
    client.force_login(member)
    answer = client.post(raising, {"kind": "contaminated", "note": "blue specks", "fill": fill.pk})
    assert "Something else is in this bucket by now" in answer.content.decode()
    assert "blue specks" in answer.content.decode()
    assert not Flag.objects.exists()


def test_a_former_fill_is_flagged_by_its_own_link(client, member, technician, raising, fill):
    shelf.end_fill(by=technician, fill=fill, why="used up")
    client.force_login(member)
    address = f"{raising}?fill={fill.pk}"
    assert address in client.get(fill.bucket.get_absolute_url()).content.decode()
    client.post(address, {"kind": "not_for_food", "fill": fill.pk})
    assert Flag.objects.get().fill == fill


def test_withdraw_is_offered_to_its_raiser_until_somebody_acts(client, people, member, flag):
    address = reverse("inventory:flag-withdraw", args=[flag.pk])
    client.force_login(people["other"])
    assert address not in client.get(flag.get_absolute_url()).content.decode()
    assert client.post(address).status_code == 403
    client.force_login(member)
    assert address in client.get(flag.get_absolute_url()).content.decode()
    client.post(address, {"reason": "my own brush"})
    flag.refresh_from_db()
    assert flag.outcome == "withdrawn"
    assert "it never was so" in client.get(flag.get_absolute_url()).content.decode()


def test_a_technician_clears_with_an_outcome_and_each_says_what_it_does(client, technician, flag):
    address = reverse("inventory:flag-clear", args=[flag.pk])
    client.force_login(technician)
    page = client.get(address).content.decode()
    assert "every tile that it touched is lifted" in page
    assert page.count("stay touched") == 2
    client.post(address, {"outcome": "put_right", "put_right_at": day(2), "note": "sieved it"})
    flag.refresh_from_db()
    right = timezone.localtime(flag.put_right_at)
    # The whole of that day counts as before it was put right.
    assert (right.date().isoformat(), right.hour, right.minute) == (day(2), 23, 59)
    assert "sieved it" in client.get(flag.get_absolute_url()).content.decode()


def test_put_right_today_is_put_right_now(client, technician, flag):
    client.force_login(technician)
    client.post(
        reverse("inventory:flag-clear", args=[flag.pk]), {"outcome": "put_right", "put_right_at": day(0)}
    )
    flag.refresh_from_db()
    assert flag.put_right_at <= timezone.now()


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        ({"outcome": ""}, "Choose what came of it."),
        ({"outcome": "withdrawn"}, "Select a valid choice"),
        ({"outcome": "mistaken", "note": " "}, "Say how you know that it never was so"),
        ({"outcome": "put_right", "put_right_at": day(9), "note": "sieved"}, "before it began"),
        ({"outcome": "put_right", "put_right_at": day(-3), "note": "sieved"}, "This lies in the future"),
        ({"outcome": "put_right", "put_right_at": "yesterday", "note": "sieved"}, "Enter a valid date"),
    ],
)
def test_clearing_refuses_with_a_sentence_and_keeps_what_was_typed(client, technician, flag, data, sentence):
    Flag.objects.filter(pk=flag.pk).update(since=timezone.now() - timedelta(days=5))
    client.force_login(technician)
    page = client.post(reverse("inventory:flag-clear", args=[flag.pk]), data).content.decode()
    assert sentence in page
    for typed in data.values():
        assert typed.strip() in page
    flag.refresh_from_db()
    assert flag.is_open


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        ({"kind": "", "note": "seen"}, "This field is required."),
        ({"kind": "cursed", "note": "seen"}, "Select a valid choice"),
        ({"kind": "other", "note": ""}, "Say what is wrong"),
        ({"kind": "contaminated", "note": "seen", "since": day(-2)}, "This lies in the future"),
        ({"kind": "contaminated", "note": "seen", "since": "31.2."}, "Enter a valid date"),
    ],
)
def test_raising_refuses_with_a_sentence_and_keeps_what_was_typed(client, member, raising, data, sentence):
    client.force_login(member)
    page = client.post(raising, data).content.decode()
    assert sentence in page
    assert data["note"] in page
    assert data.get("since", "") in page
    assert not Flag.objects.exists()


def test_the_list_shows_open_flags_and_keeps_the_closed_ones(client, technician, member, flag, fill):
    other = shelf.raise_flag(by=member, fill=fill, kind="dried_out")
    shelf.clear_flag(by=technician, flag=other, outcome="put_right")
    client.force_login(member)
    address = reverse("inventory:flag-list")
    assert [f.pk for f in client.get(address).context["rows"]] == [flag.pk]
    assert [f.pk for f in client.get(address, {"open": "false"}).context["rows"]] == [other.pk]
    wrong = client.get(address, {"opne": "true"})
    assert "There is no filter opne. Did you mean open?" in wrong.content.decode()
    assert list(wrong.context["rows"]) == []


def test_what_is_added_to_a_flag_stands_on_its_page(client, people, flag):
    client.force_login(people["other"])
    client.post(reverse("inventory:flag-note", args=[flag.pk]), {"text": "only at the bottom"})
    assert "only at the bottom" in client.get(flag.get_absolute_url()).content.decode()
