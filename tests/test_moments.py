"""A day or moment at which nothing can have happened is asked again, in one voice, wherever it is written down."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.utils import timezone

from inventory.actions import raise_flag
from studio.actions.moments import CLOCK_SLACK, happened, planned
from studio.errors import Refused
from tests import make
from tiles import actions
from tiles.models import Firing

TODAY = date(2026, 3, 8)


@pytest.fixture
def at_noon(monkeypatch):
    now = datetime(2026, 3, 8, 12, 0, tzinfo=UTC)
    monkeypatch.setattr(timezone, "now", lambda: now)
    return now


def said(check, *told) -> str:
    with pytest.raises(Refused) as refused:
        check("day", *told)
    return str(refused.value)


def test_what_happened_did_so_between_1900_and_now(at_noon):
    for good in (None, TODAY, date(1900, 1, 1), at_noon, at_noon + CLOCK_SLACK):
        happened("day", good)
    second = timedelta(seconds=1)
    assert "in the future. Give the moment" in said(happened, at_noon + CLOCK_SLACK + second)
    assert "in the future. Give the day" in said(happened, TODAY + timedelta(days=1))
    assert "in the future. Ask again." in said(happened, TODAY + timedelta(days=1), "Ask again.")
    assert "before 1900. Look at the year." in said(happened, date(1899, 12, 31))
    assert "before 1900. Look at the year." in said(happened, at_noon.replace(year=24))


def test_nobody_plans_for_a_far_year(at_noon):
    for good in (None, date(1987, 6, 5), TODAY, date(2031, 3, 1)):
        planned("day", good)
    assert "five years away" in said(planned, date(2999, 1, 1))
    assert "before 1900" in said(planned, date(1, 1, 1))


@pytest.mark.django_db
def test_a_firing_of_the_year_100_is_asked_again_and_loses_nothing(client):
    make.studio()
    operator = make.person("technician")
    client.force_login(operator)
    firing = make.firing(make.kiln())
    page = client.post(
        f"/firings/{firing.number}/move/",
        {"state": "firing", "at": "0100-01-01T10:00", "version": firing.version},
    )
    assert "This lies before 1900. Look at the year." in page.content.decode()
    assert 'value="0100-01-01T10:00' in page.content.decode()
    firing.refresh_from_db()
    assert firing.started_at is None

    for field, change in (("planned_on", actions.change_firing), ("made_on", actions.change_tile)):
        obj = firing if field == "planned_on" else make.tile("312", by=operator)
        with pytest.raises(Refused, match="before 1900"):
            change(by=operator, obj=obj, values={field: date(24, 1, 1)})
    assert Firing.objects.get().planned_on is None
    for day, said in ((date(24, 3, 1), "before 1900"), (date(2999, 3, 1), "five years away")):
        with pytest.raises(Refused, match=said):
            make.class_list(by=operator, starts_on=day, ends_on=day)


@pytest.mark.django_db
@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles"])
def test_the_ends_of_the_calendar_are_asked_again_on_pages_and_over_the_api(client, day, zone):
    make.studio(time_zone=zone)
    manager = make.manager()
    client.force_login(manager)
    flag = raise_flag(by=manager, fill=make.fill(), kind="contaminated")
    pages = (
        client.get(f"/flags/{flag.pk}/marks/", {"since": day}),
        client.post(
            f"/flags/{flag.pk}/clear/", {"outcome": "put_right", "put_right_at": day, "note": "sieved"}
        ),
    )
    for page in pages:
        assert "Look at the year." in page.content.decode()
        assert f'value="{day}"' in page.content.decode()
    moment = f"{day}T{'23:59' if day > '5' else '00:01'}:00"
    answer = client.get(f"/api/v1/flags/{flag.pk}/used/", {"since": moment})
    assert answer.status_code == (400 if (day < "5") == zone.startswith("Pac") else 200)
