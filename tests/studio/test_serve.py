"""Serving for real: a process that starts, answers, and stops when told."""

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request

import pytest
from django.conf import settings as real_settings
from django.core.management import CommandError, call_command
from django.db.migrations.recorder import MigrationRecorder

from studio.env import Environment
from studio.management.commands.serve import gunicorn_arguments


@pytest.fixture
def server(tmp_path):
    """A served, empty studio in a folder of its own; yields its address and process."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        bind = f"127.0.0.1:{probe.getsockname()[1]}"
    env = {name: value for name, value in os.environ.items() if not name.startswith(("TILEKEEP_", "DJANGO_"))}
    process = subprocess.Popen(
        [sys.executable, "manage.py", "serve", "--migrate", "--bind", bind],
        cwd=real_settings.BASE_DIR,
        env={
            **env,
            "TILEKEEP_DATA_DIR": str(tmp_path / "data"),
            "TILEKEEP_WORKERS": "1",
            "HOME": str(tmp_path),
        },
        stderr=subprocess.PIPE,
        text=True,
    )
    log = []
    for line in process.stderr:
        log.append(line)
        if "Listening at" in line:
            break
    else:
        pytest.fail("".join(log))
    yield f"http://{bind}", process
    process.kill()
    process.communicate()


def get(address):
    with urllib.request.urlopen(address, timeout=60) as answer:
        return answer.status, answer.headers, answer.read().decode()


def test_it_answers_with_styles_and_stops_on_sigterm(server, tmp_path):
    address, process = server
    assert get(f"{address}/healthz")[0] == 200
    status, headers, page = get(f"{address}/")
    assert status == 200
    assert "default-src 'self'" in headers["Content-Security-Policy"]
    styles = re.findall(r'href="(/static/[^"]+\.css)"', page)
    assert styles
    assert all(re.search(r"\.[0-9a-f]{12}\.css$", style) for style in styles), "names carry their digest"
    status, headers, _style = get(address + styles[0])
    assert (status, headers["Content-Type"].split(";")[0]) == (200, "text/css")
    assert "immutable" in headers["Cache-Control"]
    process.send_signal(signal.SIGTERM)
    process.communicate(timeout=60)
    assert process.returncode == 0
    assert not (tmp_path / ".gunicorn").exists(), "nothing outside the data folder is written"


def test_an_old_database_is_not_served(db):
    """The recorder is Django's own note of what the database has seen."""
    MigrationRecorder.Migration.objects.filter(app="tiles").delete()
    with pytest.raises(CommandError, match="serve --migrate"):
        call_command("serve")


def test_forwarded_headers_count_only_behind_a_proxy(settings):
    def trusted():
        arguments = gunicorn_arguments("127.0.0.1:8000")
        return arguments[arguments.index("--forwarded-allow-ips") + 1]

    settings.SECURE_PROXY_SSL_HEADER = None
    assert trusted() == ""
    settings.SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    assert trusted() == "*"


def test_photos_go_to_s3_by_one_setting(tmp_path):
    """Option names: the documentation of django-storages, 'Amazon S3'."""
    url = "s3://tiles/photos?endpoint=https://s3.example.org&region=eu-west-1"
    found = Environment(tmp_path, {"TILEKEEP_PHOTO_STORAGE": url}).photo_storage()
    assert found["BACKEND"] == "storages.backends.s3.S3Storage"
    assert found["OPTIONS"] == {
        "bucket_name": "tiles",
        "location": "photos",
        "default_acl": "private",
        "endpoint_url": "https://s3.example.org",
        "region_name": "eu-west-1",
        "file_overwrite": False,
    }
