"""The health check: right when it is well, loud when it is not, silent about why."""

import pytest
from django.core.files.storage import storages
from django.db import OperationalError
from django.db.migrations.recorder import MigrationRecorder

from studio.views import health

URL = "/healthz"
WELL = {"status": "ok", "database": "ok", "migrations": "ok", "photos": "ok"}


@pytest.fixture
def photo_folder(settings, tmp_path):
    """Photos in a folder of this test."""

    def use(folder):
        settings.STORAGES = {
            **settings.STORAGES,
            "photos": {
                "BACKEND": "django.core.files.storage.FileSystemStorage",
                "OPTIONS": {"location": folder},
            },
        }

    use(tmp_path / "photos")
    yield use
    storages.__dict__.pop("backends", None)


def test_all_is_well_before_setup_and_without_log_in(client, db, photo_folder, tmp_path):
    response = client.get(URL)
    assert (response.status_code, response.json()) == (200, WELL)
    assert "no-store" in response["Cache-Control"]
    assert list((tmp_path / "photos").iterdir()) == [], "nothing is left behind"


def test_a_photo_folder_that_cannot_be_written_is_said_but_not_where_it_is(
    client, db, photo_folder, tmp_path
):
    (tmp_path / "in-the-way").write_text("not a folder")
    photo_folder(tmp_path / "in-the-way")
    response = client.get(URL)
    assert (response.status_code, response.json()) == (
        503,
        {**WELL, "status": "failing", "photos": "failing"},
    )
    assert str(tmp_path) not in response.content.decode()


def test_a_migration_that_was_not_applied_is_said(client, db, photo_folder):
    MigrationRecorder.Migration.objects.filter(app="studio").delete()
    response = client.get(URL)
    assert (response.status_code, response.json()["migrations"]) == (503, "failing")


def test_a_database_that_does_not_answer_is_said(client, db, photo_folder, monkeypatch):
    class Gone:
        def cursor(self):
            raise OperationalError("no such host db.internal.example")

    monkeypatch.setattr(health, "connection", Gone())
    response = client.get(URL)
    assert response.status_code == 503
    assert response.json()["database"] == response.json()["migrations"] == "failing"
    assert "internal" not in response.content.decode()


def test_the_check_may_ask_over_plain_http(client, db, settings, photo_folder):
    settings.SECURE_SSL_REDIRECT = True
    assert client.get(URL).status_code == 200
    assert client.get("/robots.txt").status_code == 301


def test_robots_are_sent_away(client, studio):
    assert client.get("/robots.txt").content == b"User-agent: *\nDisallow: /\n"
