"""A level noted on its page: by eye, by dipstick, by weight; and the look that an overdrawn bucket asks for."""

from decimal import Decimal

import pytest
from django.urls import reverse

from inventory.models import Fill
from tests import make
from tests.reading import text_of


def page(name, fill):
    return reverse(f"inventory:{name}", args=[fill.bucket.code])


def fresh(fill):
    return Fill.objects.get(pk=fill.pk)


@pytest.fixture
def glaze(manager):
    return make.glaze("Weir Green", sg_low=Decimal("1.44"), sg_high=Decimal("1.50"))


@pytest.fixture
def fill(glaze):
    """Half of ten litres."""
    return make.fill(glaze, level="half")


def test_a_level_by_dipstick_and_by_weight_on_the_page(client, member, glaze):
    plain = make.fill(glaze)
    client.force_login(member)
    assert "Dipstick" not in text_of(client.get(page("stock-new", plain)))
    fill = make.fill(glaze, bucket_=make.bucket(inner_height_mm=300, tare_g=600), sg="1.50")
    client.post(page("stock-new", fill), {"kind": "level", "depth_mm": "150"})
    assert fresh(fill).balance_ml == 5000
    client.post(page("stock-new", fill), {"kind": "level", "gross_g": "3600"})
    assert fresh(fill).balance_ml == 2000
    answer = client.post(page("stock-new", fill), {"kind": "level", "depth_mm": "301"})
    assert "only 300 mm high inside" in text_of(answer)
    both = client.post(page("stock-new", fill), {"kind": "level", "depth_mm": "30", "level": "half"})
    assert "Two ways of measuring may disagree." in text_of(both)
    assert fresh(fill).balance_ml == 2000


def test_an_entry_that_asks_for_a_look_is_shown_until_a_level_is_noted(client, member, fill):
    client.force_login(member)
    client.post(page("stock-new", fill), {"kind": "taken_out", "volume_ml": "6000"})
    assert "Look into the bucket" in text_of(client.get(fill.bucket.get_absolute_url()))
    client.post(page("stock-new", fill), {"kind": "level", "level": "nearly_empty"})
    assert "Look into the bucket" not in text_of(client.get(fill.bucket.get_absolute_url()))
