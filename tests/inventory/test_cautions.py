"""Cautions stand where glaze is handled, and own jars are called what their reader would call them."""

import pytest
from django.urls import reverse

from tests import make
from tests.reading import text_of

CAUTIONS = [
    "Dust harms lungs",
    "raw or toxic",
    "sore or open skin",
    "grease off",
    "Spray only in",
    "come first",
]


@pytest.fixture
def fill(studio):
    return make.fill(make.glaze("Weir Green"), level="half")


@pytest.mark.parametrize("page", ["bucket", "top-up", "treatment-new", "revive", "wash-out"])
def test_every_page_on_which_glaze_is_handled_says_the_cautions(client, technician, fill, page):
    client.force_login(technician)
    name = page if page == "bucket" else f"inventory:{page}"
    said = text_of(client.get(reverse(name, args=[fill.bucket.code])))
    assert [caution for caution in CAUTIONS if caution not in said] == []


def test_where_glaze_is_got_rid_of_the_drain_is_spoken_of(client, technician, fill):
    client.force_login(technician)
    for address in (
        reverse("inventory:wash-out", args=[fill.bucket.code]),
        reverse("inventory:fill-end", args=[fill.pk]),
    ):
        assert "down a drain is a matter of local rules" in text_of(client.get(address))


def test_a_class_hears_of_gloves_powders_and_spraying_too(client, fill):
    for children in (False, True):
        bought = make.fill(make.glaze(origin="bought"), child_fit="yes")
        said = text_of(client.get(make.class_list(bought, for_children=children).page_path)).lower()
        for caution in ("sore or open skin", "grease off", "no mixing of dry powders", "no spraying"):
            assert caution in said


@pytest.mark.parametrize("page", ["/shelf/?whose=jars", "bucket", "glaze"])
def test_an_own_jar_is_yours_to_its_owner_and_somebody_s_to_others(client, people, page):
    owner = people["member"]
    jar = make.bucket(by=owner, owner=owner)
    held = make.fill(make.glaze("Sluice Blue"), bucket_=jar, by=owner)
    address = {"bucket": jar.get_absolute_url(), "glaze": held.glaze.get_absolute_url()}.get(page, page)
    for reader, yours in ((owner, True), (people["other"], False)):
        client.force_login(reader)
        said = text_of(client.get(address)).lower()
        assert ("your own jar" in said.replace(words_of_the_head(page), "")) is yours
        assert (f"own jar of {owner.name}".lower() in said) is not yours


def words_of_the_head(page):
    """The shelf offers everybody a jar of their own."""
    return "sg round · your own jar" if page.startswith("/shelf/") else ""


def test_the_page_that_makes_a_jar_speaks_to_its_owner(client, member):
    client.force_login(member)
    assert "Your own jar" in text_of(client.get(f"{reverse('inventory:bucket-new')}?own=1"))
