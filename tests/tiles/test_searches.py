"""Saved searches: kept under a name, shared or not, and whose they are."""

import pytest
from django.urls import reverse

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles.actions import archive_search, change_search, save_search
from tiles.models import SavedSearch

SATIN = "surface=satin&cone_min=6"


def test_saved_from_the_wall_and_found_again(client, member):
    client.force_login(member)
    make.fired_tile(number="S1", outcome={"zone": "whole", "surface": "satin"})
    wall = client.get(f"/wall/?{SATIN}&q=").content.decode()
    save = f"{reverse('tiles:search-save')}?query=surface%3Dsatin%26cone_min%3D6"
    assert f'href="{save}"' in wall
    form = client.get(save).content.decode()
    assert 'value="surface=satin&amp;cone_min=6"' in form
    kept = client.post(save, {"name": "Satin for mugs", "query": SATIN})
    assert kept["Location"] == f"/wall/?{SATIN}"
    assert (
        f'<a href="/wall/?{SATIN.replace("&", "&amp;")}">Satin for mugs</a>'
        in client.get("/wall/").content.decode()
    )
    change = Change.objects.get(kind="tiles.savedsearch")
    assert (change.verb, change.actor, change.after["name"]) == ("created", member, "Satin for mugs")


def test_renamed_and_put_away(client, member):
    client.force_login(member)
    search = save_search(by=member, name="Satin", query=SATIN)
    page = reverse("tiles:search", args=[search.pk])
    answer = client.post(page, {"name": "Silky", "query": SATIN, "is_shared": "on", "version": "1"})
    assert answer.status_code == 302
    search.refresh_from_db()
    assert (search.name, search.is_shared) == ("Silky", True)
    late = client.post(page, {"name": "Waxy", "query": SATIN, "version": "1"})
    assert late.status_code == 409
    away = client.post(reverse("tiles:search-archive", args=[search.pk]), {"version": "2"})
    assert away.status_code == 302
    assert "Silky" not in text_of(client.get("/wall/")).replace("“Silky” is put away", "")
    assert SavedSearch.objects.get().archived_at is not None
    save_search(by=member, name="Silky", query=SATIN)  # the name is free again


def test_one_sees_ones_own_and_what_is_shared(client, people):
    mine = save_search(by=people["member"], name="Mine", query=SATIN)
    theirs = save_search(by=people["other"], name="Theirs", query=SATIN)
    shared = save_search(by=people["other"], name="Shared", query=SATIN, is_shared=True)
    seen = {role: set(SavedSearch.objects.visible_to(person)) for role, person in people.items()}
    assert seen["member"] == {mine, shared}
    assert seen["other"] == {theirs, shared}
    assert seen["technician"] == {shared}
    client.force_login(people["member"])
    assert client.get(reverse("tiles:search", args=[theirs.pk])).status_code == 404
    assert client.get(reverse("tiles:search", args=[shared.pk])).status_code == 404  # seen, not changed
    with pytest.raises(NotAllowed):
        change_search(by=people["member"], obj=shared, values={"name": "Ours"})
    with pytest.raises(NotAllowed):
        change_search(by=people["technician"], obj=shared, values={"is_shared": False})
    with pytest.raises(NotAllowed):
        archive_search(by=people["technician"], obj=theirs)
    archive_search(by=people["technician"], obj=shared)


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("", "Search for something first"),
        ("cursor=abc", "Search for something first"),
        ("glase=1", "Did you mean glaze"),
        ("surface=shiny", "shiny"),
    ],
)
def test_what_the_wall_cannot_be_asked_is_not_kept(client, member, query, words):
    with pytest.raises(Refused, match=words):
        save_search(by=member, name="Odd", query=query)
    client.force_login(member)
    typed = client.post(reverse("tiles:search-save"), {"name": "Odd one", "query": query})
    assert typed.status_code == 200
    assert 'value="Odd one"' in typed.content.decode()
    assert not SavedSearch.objects.exists()


def test_a_name_is_given_once_by_each(people):
    save_search(by=people["member"], name="Satin", query=SATIN)
    with pytest.raises(Refused, match="already"):
        save_search(by=people["member"], name="SATIN", query=SATIN)
    save_search(by=people["other"], name="Satin", query=SATIN)


def test_more_searches_ask_no_more_queries(client, member):
    client.force_login(member)

    def more(n):
        for k in range(n):
            someone = make.person()
            save_search(by=someone, name=f"Search {k}", query=SATIN, is_shared=True)

    same_for_more(client, "/wall/", more)


def test_what_it_asked_before_it_was_shared_is_its_owners_alone(client, member, people):
    search = save_search(by=member, name="For grandmother", query="q=grandmother")
    search = change_search(by=member, obj=search, values={"name": "Blue", "query": "q=blue"})
    change_search(by=member, obj=search, values={"is_shared": True})
    history = f"/history/tiles.savedsearch/{search.pk}/"
    client.force_login(member)
    assert "grandmother" in client.get(history).content.decode()
    client.force_login(people["other"])
    assert client.get(history).status_code == 404


def test_one_that_names_what_has_gone_can_still_be_renamed_and_paging_is_no_search(member):
    search = save_search(by=member, name="Satin", query=f"{SATIN}&page_size=0")
    assert search.query == SATIN
    SavedSearch.objects.filter(pk=search.pk).update(query="gone=1")
    search.refresh_from_db()
    change_search(by=member, obj=search, values={"name": "Old", "query": "gone=1"})
    assert SavedSearch.objects.get(pk=search.pk).name == "Old"
