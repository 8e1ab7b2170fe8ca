"""Every page as a visitor, a member, a technician and a manager, against tables written by hand.

Each app keeps its table in `tests/<app>/page_roles.py`:

    from tests.world import Row

    ROWS = [
        Row("inventory:glaze-list"),
        Row("inventory:glaze-change", kwargs=lambda w: {"pk": w.glaze.pk}, member=403),
        Row("inventory:glaze-change", "post", kwargs=lambda w: {"pk": w.glaze.pk},
            data=lambda w: {"name": "Ash"}, member=403, technician=302, manager=302),
        Row("bucket", kwargs=lambda w: {"code": w.bucket.code}, visitor=200),
    ]

`Row(url name, method="get"|"post", kwargs=, data=, visitor=302, member=200, technician=200, manager=200)`:
the callables get the `World` of tests/world.py, whose attributes are records made on demand; `data` is the
query of a GET or the body of a POST. Several rows of one address are welcome (own tile, another's tile, a
private one). The statuses are what `studio/roles.py` promises, never what a page happens to answer.

- A visitor's 302 must lead to the log-in page; everybody else's must lead elsewhere.
- A page (anything outside /api/) without a row fails.
- A method without a row must be refused to everybody (302 to the log-in, 403 or 405): give views
  `@require_safe`, `@require_POST` or `@require_http_methods(["GET", "HEAD", "POST"])`.
"""

import importlib

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.world import World

APPS = ("studio", "inventory", "tiles")
ROLES = ("visitor", "member", "technician", "manager")


def table(app):
    try:
        return importlib.import_module(f"tests.{app}.page_roles").ROWS
    except ModuleNotFoundError as error:
        if error.name != f"tests.{app}.page_roles":
            raise
        return []


ROWS = [row for app in APPS for row in table(app)]


def pages(resolver=None, namespace="", route=""):
    """The names of all addresses outside /api/, with namespace."""
    found = []
    for pattern in (resolver or get_resolver()).url_patterns:
        whole = route + str(pattern.pattern)
        if whole.startswith("api/"):
            continue
        if isinstance(pattern, URLResolver):
            inner = f"{namespace}{pattern.namespace}:" if pattern.namespace else namespace
            found += pages(pattern, inner, whole)
        elif isinstance(pattern, URLPattern):
            assert pattern.name, f"/{whole} has no name"
            found.append(namespace + pattern.name)
    return found


def answers(row, world, method=None):
    """{role: status} of a row, each asked in a transaction that is taken back."""
    kwargs, data = row.kwargs(world), row.data(world)
    address = reverse(row.url, kwargs=kwargs)
    found = {}
    for role in ROLES:
        client = Client()
        if role != "visitor":
            client.force_login(getattr(world, role))
        with transaction.atomic():
            response = getattr(client, method or row.method)(address, data)
            transaction.set_rollback(True)
        to_login = response.status_code == 302 and response["Location"].startswith(reverse("studio:login"))
        if response.status_code == 302 and not row.anywhere and to_login != (role == "visitor"):
            found[role] = f"302 to {response['Location']}"
        else:
            found[role] = response.status_code
        if response.streaming:
            b"".join(response.streaming_content)
    return found


@pytest.fixture
def world(db):
    return World()


def test_no_page_is_without_a_row():
    listed = {row.url for row in ROWS}
    existing = set(pages())
    assert existing - listed == set(), "pages without a row in tests/<app>/page_roles.py"
    assert listed - existing == set(), "rows without a page"


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_each_role_gets_what_the_table_says(row, world):
    assert answers(row, world) == {role: getattr(row, role) for role in ROLES}


@pytest.mark.parametrize(
    ("row", "method"),
    [
        pytest.param(row, method, id=f"{method} {row.url}")
        for url in sorted({row.url for row in ROWS})
        for method in ("get", "post")
        if not any(r.url == url and r.method == method for r in ROWS)
        for row in [next(r for r in ROWS if r.url == url)]
    ],
)
def test_a_method_without_a_row_is_refused_to_everybody(row, method, world):
    found = answers(row, world, method)
    refused = {
        role: code for role, code in found.items() if code in (403, 405) or (role, code) == ("visitor", 302)
    }
    assert refused == found


def test_the_tables_are_not_empty():
    """A broken import of the tables would make the whole file pass for nothing."""
    assert {app: bool(table(app)) for app in APPS} == dict.fromkeys(APPS, True)
