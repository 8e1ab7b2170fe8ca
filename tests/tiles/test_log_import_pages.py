"""A file is sent, looked at, told otherwise and kept; what is odd is said; what cannot be read keeps its sentence."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from tests import make
from tests.tiles.log_files import f, readings, table
from tests.tiles.test_log_file import PLAIN, TWICE
from tests.tiles.test_log_refused import BAD
from tiles.models import FiringEvent, FiringLog, LogDraft

FAHRENHEIT = table(
    lambda s, c: f"{s},{f(c)}", head="time s,temp\n", rows=readings(290)
)  # not hot enough to tell


@pytest.fixture
def there(client, member):
    """A member's browser, and a firing that is unloaded."""
    client.force_login(member)
    return client, make.fire(make.firing())


def sent(client, firing, content, name="kiln.csv"):
    raw = content if isinstance(content, bytes) else content.encode()
    address = f"/firings/{firing.number}/log/"
    return client.post(address, {"file": SimpleUploadedFile(name, raw)}, follow=True)


def told(page, **otherwise):
    """The form as the page shows it, with some answers changed."""
    form = page.context["form"]
    shown = {}
    for field in form:
        value = field.value()
        if hasattr(value, "strftime"):
            value = value.strftime("%Y-%m-%dT%H:%M")
        shown[field.name] = "" if value is None else value
    return {**shown, **otherwise}


def test_a_file_is_looked_at_told_otherwise_and_kept(there):
    client, firing = there
    page = sent(client, firing, FAHRENHEIT)
    assert page.redirect_chain[-1][0] == f"/firings/{firing.number}/log/read/"
    html = page.content.decode()
    assert "<dd>290</dd>" in html
    assert "<polyline" in html
    assert "Nothing of it is kept yet" in html
    assert FiringLog.objects.count() == 0

    address = f"/firings/{firing.number}/log/read/"
    right = told(page, unit="f")
    # What was not seen as it will be is shown once more before it is kept.
    page = client.post(address, {**right, "keep": "1"}, follow=True)
    assert "Keep it if it is right now" in page.content.decode()
    assert FiringLog.objects.count() == 0
    page = client.post(address, {**told(page), "keep": "1"}, follow=True)
    assert page.redirect_chain[-1][0] == firing.get_absolute_url()
    assert "290 readings are kept." in page.content.decode()
    log = FiringLog.objects.get()
    assert log.peak_c == pytest.approx(742.5, abs=0.1)
    assert LogDraft.objects.count() == 0
    assert "Cone by the log" in page.content.decode()


def test_where_the_time_starts_anew_the_page_asks(there):
    client, firing = there
    page = sent(client, firing, TWICE)
    address = f"/firings/{firing.number}/log/read/"
    again = client.post(address, {**told(page), "keep": "1"})
    assert "Say whether to join the parts" in again.content.decode()
    page = client.post(address, {**told(page), "resets": "join", "look": "1"}, follow=True)
    assert "what came after was joined on" in page.content.decode()
    client.post(address, {**told(page), "keep": "1"})
    assert FiringLog.objects.get().count == 700


SAID = {
    "empty": "This file is empty. Save the log",
    "one row": "There is only one reading in it",
    "prose": "No row of this file holds a time",
    "one column": "Each row holds one number only",
    "mixed units": "Some of its rows are in °C and others in °F",
    "1e9": "the hottest is over a million °C. Choose another column",
    "times all over": "The time jumps back",
    "years": "By this the log runs over",
    "a picture": "This is no text",
    "a workbook": "Save its sheet as CSV",
}


@pytest.mark.parametrize("bad", SAID)
def test_a_bad_log_has_its_own_sentence(bad, there):
    client, firing = there
    page = sent(client, firing, BAD[bad])
    assert page.status_code == 200
    assert SAID[bad] in page.content.decode().replace("&#x27;", "'")
    assert FiringLog.objects.count() == 0


def test_a_column_that_nobody_could_guess_can_be_chosen(there):
    client, firing = there
    page = sent(client, firing, table(lambda s, c: f"{c};{s}", head="alpha;rate\n", rows=readings()))
    page = client.post(
        f"/firings/{firing.number}/log/read/",
        {**told(page), "time": "1", "time_kind": "seconds", "temperature": "0", "unit": "c", "look": "1"},
        follow=True,
    )
    client.post(f"/firings/{firing.number}/log/read/", {**told(page), "keep": "1"})
    assert FiringLog.objects.get().peak_c == 1222


def test_a_file_can_be_thrown_away(there):
    client, firing = there
    sent(client, firing, PLAIN)
    client.post(f"/firings/{firing.number}/log/read/", {"drop": "1"})
    assert LogDraft.objects.count() == 0


def test_the_table_can_be_read_in_again(there, technician):
    client, firing = there
    firing.started_at = timezone.now() - timedelta(days=1)
    firing.save()
    page = sent(client, firing, PLAIN)
    client.post(f"/firings/{firing.number}/log/read/", {**told(page), "keep": "1"})
    first = FiringLog.objects.get()
    text = b"".join(client.get(f"/firings/{firing.number}/log.csv").streaming_content)
    client.force_login(technician)
    back = {"reason": "once more", "version": ""}
    client.post(f"/firings/{firing.number}/log/back/", back)
    page = client.get(firing.get_absolute_url()).content.decode()
    assert "700 readings were taken back" in page
    taken = firing.logs_taken_back.get()
    address = f"/firings/{firing.number}/log/taken-back/{taken.pk}.csv"
    assert b"".join(client.get(address).streaming_content) == text
    page = sent(client, firing, text)
    client.post(f"/firings/{firing.number}/log/read/", {**told(page), "keep": "1"})
    again = FiringLog.objects.get()
    assert (bytes(again.readings), again.begins_at) == (
        bytes(first.readings),
        firing.started_at.replace(microsecond=0),
    )


def test_an_event_is_noted_and_taken_back(there):
    client, firing = there
    address = f"/firings/{firing.number}/events/"
    page = client.post(address, {"event-words": "damper in", "event-at": ""}, follow=True)
    assert "damper in" in page.content.decode()
    page = client.post(address, {"event-words": "a look", "event-at": "2099-01-01T10:00"})
    assert "lies in the future" in page.content.decode()
    assert 'value="a look"' in page.content.decode()
    event = FiringEvent.objects.get()
    page = client.post(f"{address}{event.pk}/back/", follow=True)
    assert "damper in" not in page.content.decode()


def test_a_clock_without_a_day_does_not_run_into_tomorrow(there):
    """Tapped 'firing' only now, it had fired since yesterday: the last reading cannot be still to come."""
    client, firing = there
    began = timezone.localtime().replace(second=0, microsecond=0) - timedelta(hours=2)
    type(firing).objects.filter(pk=firing.pk).update(started_at=timezone.now())
    text = table(lambda s, c: f"{began + timedelta(seconds=s):%H:%M:%S};{c}", head="clock;temp\n")
    page = sent(client, firing, text)
    shown = page.context["form"]["begins_at"].value()
    assert shown == (began - timedelta(days=1)).replace(tzinfo=None)
