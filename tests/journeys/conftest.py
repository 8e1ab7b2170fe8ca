"""A real browser against a real server. `page_at(width)`, `log_in(page, person)`, `shot(page, name)`.

Pictures are taken for whoever wants to look at them: TILEKEEP_SCREENSHOTS names their folder. They prove nothing.
"""

import http.client
import os
import re
import shutil
import threading
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests import make

# Playwright's sync API runs an event loop, and Django would refuse the database beside one.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

NAMES = ("chromium", "chromium-browser", "google-chrome")
HEIGHTS = {390: 844, 1280: 900}
# The most that anything may take on a busy machine; whoever waits goes on as soon as it is there.
MOST_MS = 30_000
expect.set_options(timeout=MOST_MS)
NO_CHROMIUM = "No Chromium is installed, so what a browser shows was not checked."


def chromium() -> str | None:
    return next((found for name in NAMES if (found := shutil.which(name))), None)


@pytest.fixture(scope="session")
def browser():
    path = chromium()
    if path is None:
        if os.environ.get("TILEKEEP_REQUIRE_BROWSER") == "1":
            pytest.fail(NO_CHROMIUM)
        pytest.skip(NO_CHROMIUM)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield launched
        launched.close()


@pytest.fixture
def page_at(browser, live_server):
    """A page of a phone (390) or a desk (1280); what the browser refuses (scripts, styles, files) fails the test."""
    contexts, refused = [], []

    def open_page(width: int, *, javascript: bool = True):
        context = browser.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": HEIGHTS.get(width, 900)},
            java_script_enabled=javascript,
            has_touch=width < 500,
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(MOST_MS)
        page.on("console", lambda said: refused.append(said.text) if complaint(said) else None)
        page.on(
            "requestfailed",
            lambda r: refused.append(f"{r.method} {r.url}: {r.failure}") if failed(r) else None,
        )
        page.on("pageerror", lambda error: refused.append(str(error)))
        return page

    yield open_page
    for context in contexts:
        context.close()
    all_answered(live_server)
    assert refused == [], "the browser complained"


def all_answered(live_server) -> None:
    """The server has done with every connection: what is still being answered would hold the tables emptied next."""
    thread = live_server.thread
    # Connections are taken in their order, so when this one is answered none before it still waits to be taken.
    last = http.client.HTTPConnection(thread.host, thread.port, timeout=MOST_MS / 1000)
    last.request("HEAD", "/static/nothing", headers={"Connection": "close"})
    last.getresponse()
    last.close()
    for answering in threading.enumerate():
        if "process_request_thread" in answering.name:
            answering.join(MOST_MS / 1000)
            assert not answering.is_alive(), "a request is not answered"


def complaint(said) -> bool:
    """htmx logs a request that it calls off for a newer one as an error; one that failed is logged by its name too."""
    return said.type == "error" and not said.text.startswith(("htmx:afterRequest", "htmx:sendAbort"))


def failed(request) -> bool:
    """What was under way when the page was left is called off by the browser: that is no failure."""
    return "ERR_ABORTED" not in (request.failure or "")


@pytest.fixture
def log_in():
    def as_person(page, person) -> None:
        page.goto("/login/")
        page.locator("[name=username]").fill(person.username)
        page.locator("[name=password]").fill(make.PASSWORD)
        page.locator("main form button").first.click()
        page.wait_for_url(re.compile(r"^(?!.*/login/)"))

    return as_person


@pytest.fixture
def shot():
    wanted = os.environ.get("TILEKEEP_SCREENSHOTS")

    def take(page, name: str) -> None:
        if wanted:
            width = page.viewport_size["width"]
            page.screenshot(path=Path(wanted) / f"{name}-{width}.png", full_page=True)

    return take
