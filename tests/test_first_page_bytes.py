"""The first useful page weighs less than 60 kB on its way, photos aside: the studio's wifi reaches the yard badly."""

import gzip
import re

import pytest
from django.contrib.staticfiles import finders
from django.urls import reverse

from tests import make
from tests.api_calls import ApiWorld
from tests.test_today import DUE

MOST = 60_000


@pytest.fixture
def world(db):
    return ApiWorld()


def weight(page):
    """Bytes of the page and of everything that it asks for but photos, each compressed as a server would."""
    html = page.content.decode()
    asked = set(re.findall(r'(?:href|src)="/static/([^"?]+)"', html))
    assert any(name.endswith(".css") for name in asked)
    assert any(name.endswith(".js") for name in asked)
    parts = [page.content]
    for name in asked:
        with open(finders.find(name), "rb") as file:
            parts.append(file.read())
    return sum(len(gzip.compress(part, 6)) for part in parts)


def test_today_the_wall_and_a_bucket(world, client):
    for make_one in DUE.values():
        for _i in range(4):
            make_one(world)
    for _i in range(40):
        make.tile(body=world.body, layers=[{"glaze": make.glaze()}, {"glaze": make.glaze(), "area": "upper"}])
    client.force_login(world.technician)
    for address in ("/", reverse("tiles:wall"), world.fill.bucket.get_absolute_url()):
        page = client.get(address)
        assert page.status_code == 200
        assert weight(page) < MOST, address
