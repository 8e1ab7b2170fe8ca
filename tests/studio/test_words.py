"""Moments, temperatures and names as the pages write them."""

from datetime import UTC, date, datetime

import pytest
from django.contrib.auth.models import AnonymousUser
from django.utils import timezone

from studio import units
from studio.templatetags.studio_words import person_name, temp, when

# Half past eleven in the evening of 4 March in London is 5 March in Kathmandu (UTC+5:45).
NOW = datetime(2026, 3, 4, 23, 30, tzinfo=UTC)


@pytest.fixture(autouse=True)
def kathmandu(monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: NOW)
    with timezone.override("Asia/Kathmandu"):
        yield


@pytest.mark.parametrize(
    ("moment", "words"),
    [
        (datetime(2026, 3, 4, 18, 20, tzinfo=UTC), "today 00:05"),
        (datetime(2026, 3, 4, 18, 10, tzinfo=UTC), "yesterday 23:55"),
        (datetime(2026, 3, 3, 12, 0, tzinfo=UTC), "2 days ago"),
        (datetime(2026, 2, 27, 12, 0, tzinfo=UTC), "6 days ago"),
        (datetime(2026, 2, 26, 12, 0, tzinfo=UTC), "26 February 2026"),
        (datetime(2026, 3, 5, 18, 20, tzinfo=UTC), "tomorrow 00:05"),
        (datetime(2026, 3, 8, 12, 0, tzinfo=UTC), "in 3 days"),
        (date(2026, 3, 5), "today"),
        (date(2026, 3, 2), "3 days ago"),
        (date(2027, 3, 2), "2 March 2027"),
    ],
)
def test_a_moment_is_said_in_the_days_of_the_studio(moment, words):
    assert f">{words}</time>" in when(moment)


def test_a_moment_stays_exact_for_machines():
    html = when(datetime(2026, 3, 4, 18, 20, tzinfo=UTC))
    assert 'datetime="2026-03-05T00:05:00+05:45"' in html
    assert when(None) == when("") == ""


def test_a_temperature_is_in_the_persons_unit():
    assert (temp(1222), temp(None)) == ("1222\u00a0°C", "")
    with units.shown_as(temperature="f", amounts="metric"):
        assert temp(100) == "212\u00a0°F"


def test_visitors_never_see_the_name_of_a_person(people):
    wren = people["other"]
    assert person_name(wren, people["member"]) == wren.name
    assert person_name(wren, AnonymousUser()) == person_name(wren, None) == ""
    assert person_name(None, people["member"]) == ""
