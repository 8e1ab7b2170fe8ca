"""A page with an amount that is sent twice, as by a second press without scripts, counts once."""

import re
from decimal import Decimal

import pytest
from django.urls import reverse

from inventory.models import Fill, StockEntry
from tests import make


def hidden_id(page):
    return re.search(r'name="id" value="([0-9a-f-]{36})"', page).group(1)


@pytest.mark.parametrize(
    ("page", "typed", "left"),
    [
        ("pour", {"way": "out_of", "volume_ml": "400"}, 1600),
        ("pour", {"way": "into", "volume_ml": "400"}, 2400),
        ("top-up", {"volume_ml": "400", "level": "half"}, 5000),
        ("top-up", {"volume_ml": "400"}, 2400),
        ("stock-new", {"kind": "taken_out", "volume_ml": "400"}, 1600),
    ],
)
def test_an_amount_that_is_sent_twice_counts_once(client, technician, page, typed, left):
    glaze = make.glaze()
    fill, other = (make.fill(glaze, bucket_=make.bucket(capacity_ml=10000)) for _i in range(2))
    for one in (fill, other):
        make.shelf.add_stock_entry(by=technician, fill=one, kind="level", volume_ml=Decimal(2000))
    client.force_login(technician)
    address = reverse(f"inventory:{page}", args=[fill.bucket.code])
    typed = {**typed, "fill": fill.pk, "other": other.bucket.code}
    sent = typed | {"id": hidden_id(client.get(address).text)}
    for _press in range(2):
        assert client.post(address, sent).status_code == 302
    assert Fill.objects.get(pk=fill.pk).balance_ml == left
    count = StockEntry.objects.count()
    assert client.post(address, typed | {"id": hidden_id(client.get(address).text)}).status_code == 302
    assert StockEntry.objects.count() > count, "the next page is another entry"


def test_a_pour_into_an_empty_bucket_that_is_sent_twice_counts_once(client, technician):
    fill, empty = make.fill(level="full"), make.bucket()
    client.force_login(technician)
    address = reverse("inventory:pour", args=[fill.bucket.code])
    sent = {
        "way": "out_of",
        "other": empty.code,
        "volume_ml": "400",
        "id": hidden_id(client.get(address).text),
    }
    for _press in range(2):
        assert client.post(address, sent).status_code == 302
    assert Fill.objects.get(bucket=empty).balance_ml == 400


def test_a_page_gone_back_to_says_that_it_was_noted_and_then_notes_the_other_figure(client, technician):
    fill = make.fill()
    make.shelf.add_stock_entry(by=technician, fill=fill, kind="level", volume_ml=Decimal(2000))
    client.force_login(technician)
    address = reverse("inventory:stock-new", args=[fill.bucket.code])
    used = hidden_id(client.get(address).text)
    sent = {"kind": "taken_out", "volume_ml": "400", "remark": "for mugs", "id": used}
    client.post(address, sent)
    again = client.post(address, sent | {"volume_ml": "700"})
    assert "This page was sent before and noted, with other figures." in again.text
    assert 'value="700"' in again.text
    assert 'value="for mugs"' in again.text
    assert Fill.objects.get(pk=fill.pk).balance_ml == 1600
    assert hidden_id(again.text) != used
    client.post(address, sent | {"volume_ml": "700", "id": hidden_id(again.text)})
    assert Fill.objects.get(pk=fill.pk).balance_ml == 900


def test_an_id_of_another_bucket_s_entry_is_not_taken_for_this_one(client, technician):
    one, other = make.fill(level="full"), make.fill(level="full")
    entry = make.shelf.add_stock_entry(by=technician, fill=one, kind="taken_out", volume_ml=Decimal(9))
    client.force_login(technician)
    sent = {"kind": "taken_out", "volume_ml": "9", "id": entry.pk}
    answer = client.post(reverse("inventory:stock-new", args=[other.bucket.code]), sent)
    assert "This page was sent before" in answer.text
    assert not other.stock_entries.filter(kind="taken_out").exists()
