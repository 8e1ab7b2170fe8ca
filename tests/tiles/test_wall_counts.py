"""The count beside an answer is how many tiles hang once it is chosen, and what nobody may see is not counted."""

from types import SimpleNamespace

import pytest
from django.http import QueryDict
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from studio.filtering import filtered
from tests import make
from tests.tiles.counting import same_for_more
from tests.tiles.hung import Hung
from tests.tiles.test_wall import tiles_of_all_sorts
from tiles import facets as facets_module
from tiles.facets import ANY_OF, facets
from tiles.filters_wall import WallFilter
from tiles.models import Tile

SEVERAL = {*ANY_OF, "without_fault"}
# Questions without answers to choose from.
TYPED = {"q", "firing", "date_from", "date_to", "hang", "waiting", "marked"}
ASKED = (
    "",
    "q=ash",
    "surface=satin",
    "surface=satin&surface=dry&cone_min=6",
    "without_fault=crazing&standing=clear",
    "verdict=again&layers=2",
    "label=labelled",
)


@pytest.fixture
def wall(people):
    return Hung(people)


def asked(person, query):
    tiles = Tile.objects.visible_to(person).for_the_wall()
    return filtered(WallFilter, query, tiles, SimpleNamespace(user=person))


def counted(person, query):
    filterset, _rows, problems = asked(person, query)
    assert not problems
    return facets(filterset, Tile.objects.visible_to(person).for_the_wall())


def chosen_now(query, facet, answer):
    """The query string as it is once the answer is pressed."""
    left = query.copy()
    if facet.name not in SEVERAL:
        left[facet.name] = answer.value
    elif answer.value not in left.getlist(facet.name):
        left.appendlist(facet.name, answer.value)
    return left


def test_each_count_is_what_hangs_once_it_is_chosen(wall, member):
    for text in ASKED:
        query = QueryDict(text)
        found = counted(member, query)
        assert {facet.name for facet in found} | TYPED == set(WallFilter.base_filters)
        for facet in found:
            assert any(answer.count for answer in facet.answers) or text, facet.name
            for answer in facet.answers:
                _set, rows, problems = asked(member, chosen_now(query, facet, answer))
                if not problems:  # a cone that is hotter than the end that is asked
                    assert rows.count() == answer.count, (text, facet.name, answer)


def test_two_answers_at_once_are_counted_together(wall, technician):
    names = st.sampled_from(["surface", "opacity", "movement", "with_fault", "without_fault", "state"])
    choices = names.flatmap(
        lambda name: st.tuples(
            st.just(name), st.sampled_from([v for v, _w in WallFilter.base_filters[name].extra["choices"]])
        )
    )

    @settings(max_examples=10, deadline=None)
    @given(st.lists(choices, max_size=4), st.data())
    def check(pressed, data):
        query = QueryDict(mutable=True)
        for name, value in set(pressed):
            query.appendlist(name, value)
        facet = data.draw(st.sampled_from([f for f in counted(technician, query) if f.answers]))
        answer = data.draw(st.sampled_from(facet.answers))
        _set, rows, problems = asked(technician, chosen_now(query, facet, answer))
        assert problems or rows.count() == answer.count, (query, facet.name, answer)

    check()


def test_a_private_tile_of_another_is_in_no_count(people):
    make.tile("X1", by=people["other"], layers=[{"glaze": make.glaze("Secret Ash")}], visibility="mine")
    nothing = QueryDict("")
    for facet in counted(people["member"], nothing):
        assert not any(answer.count for answer in facet.answers), facet.name
    seen = [a.words for facet in counted(people["technician"], nothing) for a in facet.answers if a.count]
    assert "Secret Ash" in seen


def test_they_arrive_as_a_fragment_beside_their_answers(client, member):
    make.fired_tile(outcome={"zone": "whole", "surface": "satin"})
    client.force_login(member)
    page = client.get(reverse("tiles:wall"), {"surface": "dry"}).content.decode()
    assert 'hx-get="/wall/counts/" hx-include="#asks"' in page
    html = client.get(reverse("tiles:wall-counts"), {"q": "satin"}).content.decode()
    assert '<span id="n-surface-satin" hx-swap-oob="innerHTML">1</span>' in html
    assert '<span id="n-surface-dry" hx-swap-oob="innerHTML">0</span>' in html
    # Each has its place on the page.
    for line in html.split("<span ")[1:]:
        assert line.split(" ")[0] in page


def test_exact_to_a_thousand(monkeypatch):
    assert [facets_module.count_words(n) for n in (0, 1000, 1001)] == ["0", "1000", "over 1 000"]


@pytest.mark.parametrize("text", ["", "surface=satin&without_fault=crazing&q=a&standing=clear"])
def test_more_tiles_ask_no_more_queries(client, member, text):
    client.force_login(member)
    same_for_more(client, f"/wall/counts/?{text}", tiles_of_all_sorts)
