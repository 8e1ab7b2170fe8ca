"""Walking the pages of a list: each row once, forwards and back, also while rows are added."""

import base64
import json

import pytest
from django.test import RequestFactory

from studio.errors import Refused
from studio.paging import page_of
from tests import make
from tiles.models import Tile
from tiles.queries import HANGING

pytestmark = pytest.mark.django_db


def hang(count, cone=None, at=None):
    """Bare rows: what is tested is the order of columns, not how a tile comes by its cone."""
    made = [make.tile() for _ in range(count)]
    Tile.objects.filter(pk__in=[t.pk for t in made]).update(cone=make.cone(cone))
    if at:
        Tile.objects.filter(pk__in=[t.pk for t in made]).update(created_at=at)
    return {t.number for t in made}


def walk(address="/wall/", size=2, between=lambda page: None):
    """Numbers of every page forwards, and the address of the last page."""
    seen, page = [], 0
    while address:
        here = address
        rows, _back, address = page_of(
            RequestFactory().get(here), Tile.objects.for_the_wall(), size=size, ordering=HANGING
        )
        seen += [t.number for t in rows]
        between(page)
        page += 1
        assert page < 50, "the pages have no end"
    return seen, here


def test_each_tile_comes_once_with_and_without_a_cone():
    same_moment = make.tile().created_at
    hottest = hang(3, "10")
    tied = hang(5, "6", at=same_moment)
    coolest = hang(1, "06")
    unfired = hang(4) | set(Tile.objects.filter(cone=None).values_list("number", flat=True))
    seen, _last = walk()
    assert len(seen) == len(set(seen))
    assert set(seen[:3]) == hottest
    assert set(seen[3:8]) == tied
    assert seen[8:9] == list(coolest)
    assert set(seen[9:]) == unfired


def test_the_way_back_shows_the_same_pages():
    hang(4, "6"), hang(3)
    seen, address = walk()
    pages = []
    while address:
        rows, address, _next = page_of(
            RequestFactory().get(address), Tile.objects.for_the_wall(), size=2, ordering=HANGING
        )
        pages.append([t.number for t in rows])
    assert [number for page in reversed(pages) for number in page] == seen


def test_tiles_that_are_hung_meanwhile_neither_hide_nor_repeat_others():
    before = hang(4, "6") | hang(3)

    def add(page):
        if page < 3:
            hang(1, "10"), hang(1, "6"), hang(1)

    seen, _last = walk(between=add)
    assert len(seen) == len(set(seen))
    assert before <= set(seen)


def cursor(*parts):
    return base64.urlsafe_b64encode(json.dumps(parts).encode()).decode()


@pytest.mark.parametrize(
    "bad",
    [
        "x",
        "ä",
        "bm8=",
        cursor(0),
        cursor(0, "1"),
        cursor(0, "a", "2026-01-01T00:00:00+00:00", "c"),
        cursor(0, "1", "yesterday", "0" * 32),
        cursor(0, 1, 2, 3),
        cursor(0, "1", "2026-01-01T00:00:00+00:00", "not-a-uuid"),
        cursor(0, "\ud800", "2026-01-01T00:00:00+00:00", "0" * 32),
        cursor(0, "\0", "2026-01-01T00:00:00+00:00", "0" * 32),
        base64.urlsafe_b64encode(b"7").decode(),
        base64.urlsafe_b64encode(b"[" * 99999).decode(),
    ],
)
def test_a_cursor_that_is_not_ours_is_refused_with_a_sentence(bad):
    hang(1)
    request = RequestFactory().get("/wall/", {"cursor": bad})
    with pytest.raises(Refused) as refused:
        page_of(request, Tile.objects.for_the_wall(), ordering=HANGING)
    assert "first page" in refused.value.problems["cursor"][0]
