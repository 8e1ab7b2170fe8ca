"""The OpenAPI document: committed, whole, and the page that shows it keeps the strict content policy."""

import re

import yaml
from django.conf import settings
from django.core.management import call_command
from django.test import Client

from tests.api_calls import served

COMMITTED = settings.FIXTURES_DIR / "openapi.yaml"
ANEW = "manage.py spectacular --validate --fail-on-warn --file fixtures/openapi.yaml"


def test_the_committed_document_is_the_code_s(tmp_path, db):
    """Made anew without a warning, it is the committed one, letter by letter."""
    made = tmp_path / "openapi.yaml"
    call_command("spectacular", validate=True, fail_on_warn=True, file=str(made))
    assert made.read_text() == COMMITTED.read_text(), f"run {ANEW}"


def test_every_call_is_described():
    document = yaml.safe_load(COMMITTED.read_text())
    described = {(path, method) for path, item in document["paths"].items() for method in item}
    assert len(described) == len(served()) - 1  # all but the document itself
    for path, method in described:
        operation = document["paths"][path][method]
        headers = {p["name"] for p in operation.get("parameters", []) if p["in"] == "header"}
        assert ("Idempotency-Key" in headers) is (method == "post"), (path, method)
        assert {"401", "403"} <= set(operation["responses"]), (path, method)


def test_it_is_served_to_people_with_a_log_in(people):
    client = Client()
    client.force_login(people["member"])
    plain = client.get("/api/v1/schema/")
    assert plain.headers["Content-Type"].startswith("application/vnd.oai.openapi")
    assert client.get("/api/v1/schema/?format=json").json()["info"]["title"] == "Tilekeep"


def test_the_page_has_no_inline_script_or_style(people):
    client = Client()
    assert client.get("/api/").headers["Location"].startswith("/login/")
    client.force_login(people["member"])
    page = client.get("/api/")
    assert page.status_code == 200
    text = page.content.decode()
    assert not re.search(r"<style|\sstyle=|\son\w+=", text)
    scripts = re.findall(r"<script\b([^>]*)>(.*?)</script>", text, re.DOTALL)
    assert len(scripts) >= 3
    assert all("src=" in attributes and not body.strip() for attributes, body in scripts)
    own = re.search(r'src="(/api/[^"]*script[^"]*)"', text).group(1)
    script = client.get(own.replace("&amp;", "&"))
    assert script.headers["Content-Type"].startswith("application/javascript")
    assert b"SwaggerUIBundle" in script.content
    policy = page.headers["Content-Security-Policy"]
    assert "unsafe" not in policy
    assert not [
        word for word in re.findall(r"https?://\S+", text) if "127.0.0.1" not in word and "w3.org" not in word
    ]


def test_visitors_get_no_document(db):
    assert Client().get("/api/v1/schema/").status_code == 401
