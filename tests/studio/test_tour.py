"""The tour: offered on the first visit, put away for good, and told to each by what they may do."""

import pytest

from tests import make
from tests.reading import text_of

OFFER = "New here?"


def test_it_is_offered_until_it_is_put_away_on_whatever_device(studio, client):
    person = make.person("member")
    client.force_login(person)
    assert OFFER in text_of(client.get("/"))
    assert OFFER in text_of(client.get("/"))  # looking is not putting away
    assert client.post("/help/away/").status_code == 302
    client.logout()
    client.force_login(person)
    assert OFFER not in text_of(client.get("/"))
    assert text_of(client.get("/help/")).count("The shapes") == 1  # still there for whoever looks for it
    person.refresh_from_db()
    first = person.tour_put_away_at
    client.post("/help/away/")
    person.refresh_from_db()
    assert person.tour_put_away_at == first


def test_it_is_put_away_by_each_for_themselves(studio, client):
    client.force_login(make.person("member"))
    client.post("/help/away/")
    client.force_login(make.person("member"))
    assert OFFER in text_of(client.get("/"))


def test_a_station_does_not_offer_it(tablet, wren):
    from tests.studio.at_the_table import visit

    visit(tablet, wren, there="/")
    page = tablet.get("/")
    assert "Today" in text_of(page)
    assert OFFER not in text_of(page)


@pytest.mark.parametrize(("role", "parts"), [("member", 4), ("technician", 4), ("manager", 5)])
def test_the_parts_are_those_of_the_role(role, parts, studio, client):
    client.force_login(make.person(role))
    page = client.get("/help/")
    assert page.content.decode().count("<section>") == parts
    said = text_of(page)
    for words in (
        "Use it The lid is open.",
        "Ask first",
        "Do not use",
        "A tile",
        "A stack",
        "A cone that is down",
    ):
        assert words in said


def test_the_cautions_say_nothing_of_a_pot_that_the_software_cannot_know(studio, client):
    client.force_login(make.person("member"))
    said = text_of(client.get("/help/cautions/"))
    for heading in ("Dust", "Food", "Kilns"):
        assert heading in said
    assert "safe" not in said.lower()
