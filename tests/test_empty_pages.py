"""A new studio: every list says what will be here and offers the first step to whoever may do it."""

import re

import pytest
from django.urls import NoReverseMatch, reverse

from inventory import actions as shelf
from studio.actions.invitations import invite
from tests import make
from tests.reading import text_of
from tests.test_page_roles import pages

# The lists: what each says where there is nothing, and the address of the first step for (manager, member).
LISTS = {
    "inventory:shelf": ("Every glaze bucket will stand here", "/buckets/new/", "/buckets/new/"),
    "inventory:glaze-list": ("Every glaze, slip, wash and wax", "/glazes/new/", ""),
    "inventory:place-list": ("Rooms, shelves, boards and hooks", "/places/new/", ""),
    "inventory:flag-list": ("Nothing is flagged.", "/shelf/", "/shelf/"),
    "inventory:register": ("Every bucket in use will stand here", "/shelf/", "/shelf/"),
    "inventory:labels": ("Every lid that wants a label will stand here", "/shelf/", "/shelf/"),
    "inventory:class-list-list": ("A class list names the buckets", "/class-lists/new/", "/class-lists/new/"),
    "inventory:round": ("a round leads past each of them", "/shelf/", "/shelf/"),
    "tiles:wall": ("", "/log/", "/log/"),
    "tiles:open-wall": ("Nobody has hung a tile on the open wall yet.", "", ""),
    "tiles:my-tiles": ("Your tiles will hang here", "/log/", "/log/"),
    "tiles:run-list": ("Each batch of tiles that you make", "/log/numbers/", "/log/numbers/"),
    "tiles:looks-due": ("Nothing is due.", "", ""),
    "tiles:firing-list": ("every firing of the studio", "/firings/new/", ""),
    "tiles:combination-list": ("every stack of glazes that was tried", "/log/", "/log/"),
    "tiles:body-list": ("the clays that tiles are made of", "/bodies/new/", ""),
    "tiles:report-list": ("what laboratories found in fired ware", "/lab-reports/new/", ""),
    "tiles:schedule-list": ("the ways in which the studio fires", "/schedules/new/", ""),
    "tiles:kiln-list": ("the studio's kilns", "/kilns/new/", ""),
}
# Lists within a page that also asks.
BESIDE = {"studio:stations": "None is set up yet.", "studio:account-tokens": "You have none yet."}
# Pages without arguments that are no lists, or are never empty: oneself, one's own coming.
OTHERS = {
    *("studio:home", "studio:more", "studio:help", "studio:help-away", "studio:help-cautions"),
    *("studio:login", "studio:logout", "studio:robots", "studio:healthz", "studio:settings"),
    *("studio:account", "studio:account-password", "studio:account-pin", "studio:api-docs"),
    *("studio:people", "studio:invite", "studio:history"),
    *("studio:station", "studio:station-step-up", "studio:station-here"),
    *("inventory:shelf-csv", "inventory:register-csv", "inventory:bucket-find"),
    *("inventory:bucket-new", "inventory:glaze-new", "inventory:place-new", "inventory:class-list-new"),
    *("tiles:log-start", "tiles:number-bare", "tiles:number-add", "tiles:number-reserve"),
    *("tiles:tiles-several", "tiles:log-set", "tiles:set-choose", "tiles:set-check", "tiles:set-done"),
    "tiles:schedule-new",
    *("tiles:firing-new", "tiles:body-new", "tiles:kiln-new"),
    *("tiles:ask", "tiles:causes", "tiles:causes-csv", "tiles:causes-edit", "tiles:causes-restore"),
    "tiles:report-new",
    *("tiles:wall-csv", "tiles:wall-counts", "tiles:compare", "tiles:search-save", "tiles:pot"),
}


def without_arguments():
    found = set()
    for name in pages():
        try:
            reverse(name)
        except NoReverseMatch:
            continue
        found.add(name)
    return found


def test_every_list_is_listed():
    assert without_arguments() - {*LISTS, *BESIDE} - OTHERS == set(), (
        "is it a list? Say here what it says when empty"
    )
    assert {*LISTS, *BESIDE} <= without_arguments()


@pytest.mark.parametrize("role", ["manager", "member"])
@pytest.mark.parametrize("name", LISTS)
def test_an_empty_list_says_what_will_be_here(name, role, studio, client):
    client.force_login(make.person(role))
    page = client.get(reverse(name))
    said, *steps = LISTS[name]
    empty = re.search(r'<div class="empty">(.*?)</div>', page.content.decode(), re.DOTALL)
    assert empty, "nothing is said"
    assert said in text_of(page)
    found = re.findall(r'<a[^>]*href="([^"]*)"', empty[1])
    step = steps[("manager", "member").index(role)]
    assert found == ([step] if step else [])
    for address in found:
        assert client.get(address).status_code == 200


@pytest.mark.parametrize("name", BESIDE)
def test_a_list_beside_a_form(name, studio, client):
    client.force_login(make.person("manager"))
    assert BESIDE[name] in text_of(client.get(reverse(name)))


STEPS = {
    "Add a place": lambda by: shelf.create_place(by=by, name="Long shelf"),
    "Add a glaze": lambda by: make.glaze("Weir Green", by=by),
    "Set up a bucket": lambda by: make.fill(),
    "Add a clay body": lambda by: make.body(),
    "Add a kiln": lambda by: make.kiln(),
    "Invite people": lambda by: invite(by=by, role="member"),
}


def steps_on(client):
    html = client.get("/").content.decode()
    found = re.search(r'<section class="panel first-steps">(.*?)</section>', html, re.DOTALL)
    return re.findall(r'<a href="([^"]*)">([^<]*) <span', found[1]) if found else []


def test_the_first_steps_of_a_manager_go_as_they_are_done(studio, client):
    manager = make.person("manager")
    client.force_login(manager)
    left = list(STEPS)
    while left:
        shown = steps_on(client)
        assert [words for _address, words in shown] == left
        assert all(client.get(address).status_code == 200 for address, _words in shown)
        STEPS[left.pop(0)](manager)
    assert steps_on(client) == []


@pytest.mark.parametrize("role", ["member", "technician"])
def test_nobody_else_is_asked_to_set_up_the_studio(role, studio, client):
    client.force_login(make.person(role))
    assert steps_on(client) == []
    assert "Nothing needs you today." in text_of(client.get("/"))
