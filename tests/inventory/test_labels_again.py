"""A lid's paper is asked for again when what it says of food no longer holds, and printing clears that."""

import pytest

from inventory import actions as shelf
from inventory.calc.hazards import hazards
from inventory.calc.standing import TOXIC
from inventory.models import GlazeSubstance
from studio.today import due_for
from tests import make


@pytest.fixture
def fill(studio, settings):
    settings.PUBLIC_URL = "https://clay.example"
    return make.fill(make.glaze("Weir Blue", origin="bought"), label="food_safe", sg="1.45")


def due(person):
    return [item.words for group in due_for(person) if group.kind == "labels" for item in group.items]


def print_label(client, fill):
    page = client.get("/labels/", {"bucket": fill.bucket.code}).content.decode()
    text = page.split('name="text_')[1].split('value="')[1].split('"')[0]
    client.post("/labels/", {f"text_{fill.bucket.code}": text})


def note(fill, person, **fields):
    return GlazeSubstance.objects.create(glaze=fill.glaze, by=person, read_in="data_sheet", **fields)


def test_a_changed_standing_asks_for_paper_until_it_is_printed(client, technician, member, fill):
    client.force_login(technician)
    assert due(technician) == []  # never printed: the page of labels says so, today does not
    print_label(client, fill)
    assert due(technician) == []
    shelf.raise_flag(by=member, fill=fill, kind="not_for_food")
    assert due(technician) == [fill.bucket.code]
    assert due(member) == []
    print_label(client, fill)
    assert due(technician) == []


def test_lead_that_somebody_read_is_printed_on_the_lid_whatever_the_label_says(client, technician, fill):
    client.force_login(technician)
    print_label(client, fill)
    note(fill, technician, substance="Co")
    assert due(technician) == []
    row = note(fill, technician, substance="Pb")
    assert due(technician) == [fill.bucket.code]
    assert "Keep away from food" in client.get(f"/b/{fill.bucket.code}/label").content.decode()
    row.taken_back_at = row.created_at
    row.save()
    assert due(technician) == []


@pytest.mark.parametrize("substance", GlazeSubstance.Substance.values)
def test_what_is_toxic_is_the_list_that_is_kept_away_from_food(substance):
    """Pb, Cd, As, Sb, Se and U: the trade's usual list (common practice)."""
    is_listed = substance in {"Pb", "Cd", "As", "Sb", "Se", "U"}
    assert (substance in TOXIC) == (hazards()[substance].group == "toxic") == is_listed
