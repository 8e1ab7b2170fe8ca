"""What the apps hang on the place."""

import pytest
from django.apps import apps
from django.contrib.auth.models import AnonymousUser
from django.urls import reverse

from studio import registry
from studio.context import frame
from studio.models import Change
from studio.registry import NavItem
from studio.roles import TABLE
from tests import make


def test_every_word_leads_somewhere_and_asks_for_an_act_of_the_table():
    assert registry.nav
    for item in registry.nav:
        assert reverse(item.url_name)
        assert item.act in TABLE
        assert item.where in ("frame", *registry.MORE)


def test_a_phone_has_room_for_the_frame():
    assert len([item for item in registry.nav if item.where == "frame"]) <= 5


def test_registering_again_changes_nothing_and_the_order_is_by_number(monkeypatch):
    monkeypatch.setattr(registry, "nav", [])
    late, early = NavItem(20, "Late", "studio:more"), NavItem(10, "Early", "studio:home")
    registry.register_nav(late, early)
    registry.register_nav(late)
    assert registry.nav == [early, late]


@pytest.mark.parametrize(
    ("role", "settings", "history"), [("member", 0, 0), ("technician", 0, 1), ("manager", 1, 1)]
)
def test_the_page_of_further_things_shows_what_the_role_reaches(client, people, role, settings, history):
    client.force_login(people[role])
    html = client.get("/more/").content.decode()
    assert html.count(f'href="{reverse("studio:settings")}"') == settings
    assert html.count(f'href="{reverse("studio:history")}"') == history
    assert html.count('action="/logout/"') == 1


def test_every_word_stands_in_the_frame_or_under_a_heading_of_further_things(client, people):
    assert {item.where for item in registry.nav} == {"frame", *registry.MORE}
    client.force_login(people["manager"])
    html = client.get("/more/").content.decode()
    words = list(registry.MORE.values())
    assert sorted(words, key=lambda title: html.index(f"<h2>{title}</h2>")) == words
    assert (
        html.index("<h2>Clay and kilns</h2>") < html.index(">Schedules<") < html.index("<h2>The studio</h2>")
    )


def test_a_visitor_has_no_words(rf, studio):
    request = rf.get("/")
    request.user, request.resolver_match = AnonymousUser(), None
    assert frame(request)["nav_items"] == []


def test_a_panel_that_has_nothing_to_say_is_left_out(monkeypatch):
    monkeypatch.setattr(registry, "panels", [])
    registry.register_panel("bucket", "a.html", lambda request, record: {"of": record})
    registry.register_panel("bucket", "b.html", lambda request, record: None)
    registry.register_panel("tile", "c.html", lambda request, record: {})
    assert registry.panels_for("bucket", None, "lid") == [("a.html", {"of": "lid"})]


def test_every_kind_is_a_model_and_shows_visitors_nothing_that_has_people(people):
    assert registry.kinds
    for kind in registry.kinds.values():
        assert apps.get_model(kind.label)._meta.label_lower == kind.label
        assert kind.visible_to(people["manager"]).model._meta.label_lower == kind.label
    for label in ("studio.person", "studio.token", "studio.invitation", "studio.studio"):
        assert not registry.kinds[label].visible_to(AnonymousUser()).exists()


def test_every_history_row_of_the_actions_has_a_kind(people):
    make.fired_tile(outcome={"zone": "whole", "surface": "satin"})
    make.fill(sg="1.45")
    assert set(Change.objects.values_list("kind", flat=True)) <= set(registry.kinds)
