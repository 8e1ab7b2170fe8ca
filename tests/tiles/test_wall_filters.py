"""Every filter of the wall, alone and together, against its meaning in plain Python over made records."""

from types import SimpleNamespace

import pytest
from django.http import QueryDict
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.actions import change_glaze
from studio.filtering import filtered
from tests import make
from tests.tiles.hung import Hung
from tests.tiles.meanings import cases, numbers, query
from tiles.filters_wall import WallFilter
from tiles.models import Tile


@pytest.fixture
def wall(people):
    return Hung(people)


def asked(person, text):
    """Numbers of the tiles that the filters give, and the problems."""
    tiles = Tile.objects.visible_to(person).for_the_wall()
    _set, rows, problems = filtered(WallFilter, QueryDict(text), tiles, SimpleNamespace(user=person))
    return sorted(t.number for t in rows), problems


def test_each_filter_means_what_it_says(wall, manager):
    meanings = cases(wall)
    fitting = {}
    for case in meanings:
        found, problems = asked(manager, query(case))
        assert not problems, case
        assert found == numbers(wall, manager, case[2]), query(case)
        fitting.setdefault(case[0], []).append(len(found))
    assert set(fitting) == set(WallFilter.base_filters) - {"hang"}, "a filter without a case"
    # A case that fits nothing or everything tells a working filter from none by luck only.
    everything = len(wall.tiles)
    assert all(any(0 < n < everything for n in counts) for counts in fitting.values()), fitting


def test_filters_together_mean_all_of_them(wall, member, manager):
    meanings = cases(wall)

    @settings(max_examples=25, deadline=None)
    @given(
        st.lists(st.sampled_from(meanings), min_size=1, max_size=4, unique_by=lambda case: case[0]),
        st.sampled_from([member, manager]),
    )
    def check(chosen, person):
        found, problems = asked(person, query(*chosen))
        names = {name for name, _value, _fit in chosen}
        if problems:
            assert {"cone_min", "cone_max"} <= names or {"date_from", "date_to"} <= names
            assert set(problems) <= {"cone_max", "date_to"}
            return
        assert found == numbers(wall, person, *(fit for _name, _value, fit in chosen))

    check()


def test_a_label_counts_no_more_on_a_glaze_that_was_mixed_here_after_all(manager):
    glaze = make.glaze(origin="bought")
    tile = make.tile("L1", layers=[{"fill": make.fill(glaze, label="food_safe")}])
    assert asked(manager, "label=labelled")[0] == [tile.number]
    change_glaze(by=manager, obj=glaze, values={"origin": "mixed"})
    assert asked(manager, "label=labelled")[0] == []
    assert asked(manager, "label=not_known")[0] == [tile.number]


UNUSABLE = [
    ("cone_min=6&cone_max=06", "cone_max", "Swap them"),
    ("cone_min=60", "cone_min", "no cone"),
    ("cone_min=hot", "cone_min", "not a cone"),
    ("cone_max=00", "cone_max", "no cone"),
    ("surface=shiny", "surface", "shiny"),
    ("surface=satin&surface=shiny", "surface", "shiny"),
    ("glaze=1", "glaze", "Choose one from the list"),
    ("glaze=00000000-0000-0000-0000-000000000000", "glaze", "Choose one from the list"),
    ("glaze_top=%00", "glaze_top", "Choose one from the list"),
    ("body=weir", "body", "Choose one from the list"),
    ("maker=me", "maker", "Choose one from the list"),
    ("firing=99999", "firing", "no firing of this number"),
    ("firing=-1", "firing", "no firing of this number"),
    ("firing=1e3", "firing", "no firing of this number"),
    (f"firing={10**30}", "firing", "no firing of this number"),
    ("label=safe", "label", "safe"),
    ("standing=maybe", "standing", "maybe"),
    ("without_fault=warping", "without_fault", "warping"),
    ("state=gone", "state", "gone"),
    ("q=%00", "q", "Null"),
    (f"q={'x' * 200}", "q", "120"),
    ("glase=1", "glase", "Did you mean glaze?"),
    ("cone=6", "cone", "There is no filter cone"),
    ("opacity=foggy", "opacity", "foggy"),
    ("movement=far", "movement", "far"),
    ("verdict=maybe", "verdict", "maybe"),
    ("with_fault=warping", "with_fault", "warping"),
    ("layers=0", "layers", "0"),
    ("layers=two", "layers", "two"),
    ("combination=1", "combination", "Choose one from the list"),
    ("atmosphere=steam", "atmosphere", "steam"),
    ("kiln=old", "kiln", "Choose one from the list"),
    ("use_then=gone", "use_then", "gone"),
    ("use_now=maybe", "use_now", "maybe"),
    ("place=barn", "place", "Choose one from the list"),
    ("date_from=yesterday", "date_from", "valid date"),
    ("date_to=2024-02-30", "date_to", "valid date"),
    ("date_from=2024-03-01&date_to=2024-02-29", "date_to", "Swap them"),
    ("hang=size", "hang", "size"),
]


@pytest.mark.parametrize(("text", "field", "words"), UNUSABLE, ids=[u[0][:30] for u in UNUSABLE])
def test_a_filter_that_cannot_be_used_says_so_and_shows_nothing(wall_of_one, manager, text, field, words):
    found, problems = asked(manager, text)
    assert found == []
    assert list(problems) == [field]
    assert words in problems[field][0]


def test_the_api_names_each_filter_that_cannot_be_used(wall_of_one, client, manager):
    client.force_login(manager)
    for text, field, words in UNUSABLE:
        answer = client.get(f"/api/v1/tiles/?{text}")
        assert answer.status_code == 400, text
        [error] = answer.json()["errors"]
        assert error["field"] == field
        assert words in error["sentence"]


def test_the_page_keeps_what_was_typed(wall_of_one, client, manager):
    client.force_login(manager)
    for text, _field, words in UNUSABLE:
        page = client.get(f"/wall/?{text}&surface=dry" if "surface" not in text else f"/wall/?{text}")
        html = page.content.decode()
        assert page.status_code == 200
        assert words in html.replace("&#x27;", "'"), text
        assert "nothing is shown" in html
        if "surface" not in text:
            assert 'value="dry" id="id_surface_3" checked' in html


@pytest.fixture
def wall_of_one(people):
    from tests import make

    return make.tile()
