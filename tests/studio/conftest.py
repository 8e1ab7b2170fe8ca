import io

import pytest
from django.test import Client
from django.urls import reverse
from PIL import Image

from tests import make
from tests.studio.at_the_table import FRONT, with_pin


def photos_in(settings, folder):
    settings.STORAGES = {
        **settings.STORAGES,
        "photos": {
            "BACKEND": "django.core.files.storage.FileSystemStorage",
            "OPTIONS": {"location": folder},
        },
    }


@pytest.fixture
def photo_folder(settings, tmp_path):
    """Photos of this test lie in a folder of its own."""
    photos_in(settings, tmp_path / "photos")
    return tmp_path / "photos"


@pytest.fixture
def quick_drawings(monkeypatch):
    """One small grey picture for every tile of the demo, where a test is not about the drawings."""
    file = io.BytesIO()
    Image.new("RGB", (90, 150), "#aeaeae").save(file, "JPEG")
    monkeypatch.setattr("tiles.demo.drawings", lambda looks: [file.getvalue() for _look in looks])
    return file.getvalue()


@pytest.fixture
def fill(db):
    return make.fill(make.glaze("Weir Green", sg_low="1.40", sg_high="1.50"), sg="1.45")


@pytest.fixture
def sg_page(fill):
    return reverse("inventory:reading-new", args=[fill.bucket.code])


@pytest.fixture
def tablet(technician):
    """A browser that the technician has made a station."""
    browser = Client()
    browser.force_login(technician)
    made = browser.post(reverse("studio:stations"), {"name": "Glaze table"})
    assert (made.status_code, made["Location"]) == (302, FRONT)
    return browser


@pytest.fixture
def wren(studio):
    return with_pin(make.person("member", name="Wren Alder"))
