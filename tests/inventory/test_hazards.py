"""Cautions for whoever handles a raw glaze. Limits: OSHA 29 CFR 1910.1000, Z-1 and Z-2, 2015 edition, as read."""

import pytest

from inventory.calc.hazards import hazards
from inventory.hazards import CAUTIONS, MARKS, hazard_notes
from inventory.models import GlazeSubstance
from tests import make
from tests.reading import text_of


@pytest.mark.parametrize(
    ("substance", "mg_per_m3", "basis"),
    [
        ("Ba", 0.5, "twa"),
        ("Co", 0.1, "twa"),
        ("Cu", 1, "twa"),
        ("Cr", 0.5, "twa"),
        ("Mn", 5, "ceiling"),
        ("Ni", 1, "twa"),
        ("V", 0.5, "ceiling"),
        ("Zn", 5, "twa"),
        ("Sb", 0.5, "twa"),
        ("silica", 0.05, "twa"),  # 50 µg/m³: OSHA's fact sheet on 29 CFR 1910.1053
    ],
)
def test_limits_are_those_of_the_source(substance, mg_per_m3, basis):
    found = hazards()[substance]
    assert (found.limit_mg_per_m3, found.basis, found.mark) == (mg_per_m3, basis, "read")


def test_every_substance_has_its_caution_and_every_caution_its_words():
    assert set(hazards()) == {*GlazeSubstance.Substance.values, "silica"}
    said = {code for hazard in hazards().values() for code in (hazard.group, *hazard.also)}
    assert said == set(CAUTIONS)
    assert {hazard.mark for hazard in hazards().values()} <= set(MARKS)
    # Where no source was read there is no figure either.
    assert all(h.limit_mg_per_m3 is None for h in hazards().values() if not h.source)


def test_the_glazes_page_and_the_register_say_them_gravest_first(client, member):
    glaze = make.glaze("Weir Blue")
    make.fill(glaze)
    for substance in ("Zn", "Co", "Co"):
        GlazeSubstance.objects.create(glaze=glaze, substance=substance, by=member, read_in="container")
    notes = hazard_notes(glaze.substances.all())
    assert [note.name for note in notes] == ["cobalt", "zinc"]
    client.force_login(member)
    page = text_of(client.get(f"/glazes/{glaze.pk}/"))
    assert "0.1 mg/m³ in the air, over 8 hours, as cobalt" in page
    assert "Silica dust" in page
    register = text_of(client.get("/register/"))
    assert "Cobalt: Toxic as dust" in register
    assert "fitted respirator when you mix powders" in register
    [row] = client.get("/api/v1/register/").json()["results"]
    assert row["hazards"][1].startswith("zinc: A lower hazard")


def test_what_holds_a_toxic_element_is_kept_from_food_in_the_register_whatever_its_label_says(client, member):
    fill = make.fill(make.glaze(origin="bought"), label="food_safe")
    client.force_login(member)

    def said():
        [row] = client.get("/api/v1/register/").json()["results"]
        return row["food"], row["label"]

    assert said()[0] == "label_food_safe"
    GlazeSubstance.objects.create(glaze=fill.glaze, substance="Pb", by=member, read_in="maker")
    assert said() == ("keep_from_food", "“food safe”")
