"""Every page of the service in a browser, at both widths and in both lights: axe finds nothing, and nothing is
too small, too wide or without a heading.

axe-core checks against WCAG (W3C); the sizes are this project's own rule: words of 15 px at least, and on a phone 44 px
for a finger (WCAG 2.2 asks 24 in 2.5.8 and 44 in 2.5.5).
"""

from pathlib import Path
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from tests.test_page_roles import ROWS
from tests.world import World

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

# What is no page: tables, papers, pictures, words for programs, fragments of a page.
NO_PAGE = (
    "csv",
    "-file",
    "-earlier",
    "log-taken",
    "trial-photo",
    "sized",
    "original",
    "robots",
    "healthz",
    "-counts",
    "open-photo",
)
# What answers a question: walked with one that has an answer.
ASKED = ("tiles:pot", "inventory:labels")
# Written by somebody else: the page in which programs' authors try the API.
NOT_OURS = "#swagger-ui"

MEASURE = (Path(__file__).parent / "measure.js").read_text(encoding="utf-8")


def addresses(world):
    """(name, address, who) of each page once, as the first of these who may see it."""
    found = {}
    world.sg_round  # noqa: B018 - a row of the shelf empties its bucket
    for row in sorted(ROWS, key=lambda row: row.url.startswith("inventory:")):
        who = next(
            (r for r in ("manager", "member", "technician", "visitor") if getattr(row, r) == 200), None
        )
        if row.method == "get" and who and not row.url.endswith(NO_PAGE):
            query = urlencode(row.data(world), doseq=True)
            address = reverse(row.url, kwargs=row.kwargs(world)) + (f"?{query}" if query else "")
            if row.url not in found or (row.url in ASKED and query):
                found[row.url] = (address, who)
    return [(name, *where) for name, where in found.items()]


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_every_page(width, light, page_at, live_server):
    from axe_playwright_python.sync_playwright import Axe

    world, axe, wrong = World(), Axe(), {}
    walk = addresses(world)
    assert len(walk) > 80
    pages = {}
    for name, address, who in walk:
        if who not in pages:
            pages[who] = page_at(width)
            pages[who].emulate_media(color_scheme=light, reduced_motion="reduce")
            if who != "visitor":
                client = Client()
                client.force_login(getattr(world, who))
                session = {"name": "sessionid", "value": client.cookies["sessionid"].value}
                pages[who].context.add_cookies([{**session, "url": live_server.url}])
        page = pages[who]
        answer = page.goto(address)
        assert answer.status == 200, name
        found = axe.run(page, context={"exclude": [[NOT_OURS]]}).response["violations"]
        said = [
            f"{v['id']}: {node['html'][:140]} {node['any'][0]['message'][:140] if node['any'] else ''}"
            for v in found
            for node in v["nodes"][:3]
        ]
        if said := said + page.evaluate(MEASURE, width < 500):
            wrong[f"{name} {address}"] = said
    assert wrong == {}, "\n".join(f"{page}\n    " + "\n    ".join(said[:8]) for page, said in wrong.items())
