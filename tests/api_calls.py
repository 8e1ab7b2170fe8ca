"""How the tests call the API: the records, the clients, and one call. The table of all calls is in api_table.py."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import get_resolver, reverse
from rest_framework.test import APIClient

from inventory import actions as shelf
from studio.actions import tokens as token_actions
from studio.models import Change
from tests import make, photo_files
from tests.world import World
from tiles import actions as wall

WHO = ("visitor", "member", "technician", "manager", "read_token", "device_token")


class ApiWorld(World):
    @cached_property
    def keys(self) -> dict[str, str]:
        """`read_token` is the member's; `device_token` may write, and its owner is the technician."""
        _t, read = token_actions.issue_token(by=self.member, name="reader", scope="read")
        _t, device = token_actions.issue_token(
            by=self.technician, name="tablet", scope="write", kind="device"
        )
        return {"read_token": read, "device_token": device}

    @cached_property
    def change(self) -> Change:
        return Change.objects.get(kind="inventory.glaze", object_id=self.glaze.pk, verb="created")

    @cached_property
    def jar(self):
        """The member's own."""
        return shelf.create_bucket(by=self.member, owner=self.member)

    @cached_property
    def filled_jar(self):
        """The member's, of the glaze of `fill`."""
        return make.fill(self.glaze, bucket_=self.jar, by=self.member)

    @cached_property
    def second_fill(self):
        """In another bucket of the shelf, of the glaze of `fill`."""
        return make.fill(self.glaze, by=self.manager)

    @cached_property
    def unused_body(self):
        return make.body()

    @cached_property
    def unused_kiln(self):
        return make.kiln()

    @cached_property
    def unused_schedule(self):
        return make.schedule()

    @cached_property
    def loaded(self):
        """A planned firing with `loaded_tile` in it."""
        firing = make.firing(self.kiln)
        wall.load_tile(by=self.manager, firing=firing, tile=self.loaded_tile)
        return firing

    @cached_property
    def loaded_tile(self):
        return make.tile("L1", by=self.member, body=self.body)

    @cached_property
    def piece(self):
        """The member's, in `firing`."""
        return wall.load_piece(by=self.member, firing=self.firing, words="mugs", count=6)

    @cached_property
    def stopped_piece(self):
        """Loaded before its body's range was changed."""
        body, firing = make.body(low="5", high="7"), make.firing(target="6")
        piece = wall.load_piece(by=self.manager, firing=firing, words="bowls", body=body)
        wall.change_body(by=self.manager, obj=body, values={"cone_high": make.cone("5")})
        return piece

    def client(self, who: str) -> APIClient:
        client = APIClient()
        if who in ("member", "technician", "manager", "other"):
            client.force_login(getattr(self, who))
        elif who != "visitor":
            client.credentials(HTTP_AUTHORIZATION=f"Bearer {self.keys[who]}")
        return client


def picture() -> SimpleUploadedFile:
    return SimpleUploadedFile("tile.jpg", photo_files.jpeg(size=(300, 500)), content_type="image/jpeg")


@dataclass(frozen=True)
class Call:
    """One call. `of` is the record whose version goes into If-Match; `answers` are statuses in the order of WHO."""

    method: str
    name: str
    answers: str
    kwargs: Callable[[ApiWorld], dict[str, Any]] = lambda w: {}
    body: Callable[[ApiWorld], dict[str, Any]] = lambda w: {}
    of: str = ""
    query: str = ""
    multipart: bool = False
    shown_once: str = ""

    def __str__(self) -> str:
        return f"{self.method} {self.name}"

    def expected(self) -> dict[str, int]:
        return dict(zip(WHO, map(int, self.answers.split()), strict=True))

    def send(self, client: APIClient, world: ApiWorld, body: Any = None, **headers: str) -> Any:
        address = reverse(self.name, kwargs=self.kwargs(world)) + self.query
        if self.of:
            record = getattr(world, self.of)
            record.refresh_from_db()
            headers = {"If-Match": f'"{record.version}"', **headers}
        data = None if self.method in ("get", "delete") else self.body(world) if body is None else body
        form = "multipart" if self.multipart else "json"
        return getattr(client, self.method)(address, data, format=form, headers=headers)


def pk(name: str) -> Callable[[ApiWorld], dict[str, Any]]:
    return lambda w: {"pk": getattr(w, name).pk}


def data(**fields: Any) -> Callable[[ApiWorld], dict[str, Any]]:
    return lambda w: fields


def served() -> dict[tuple[str, str], Any]:
    """(name, method) of everything under /api/v1/, with its callback, read from the resolver."""
    found = {}
    for pattern in _patterns(get_resolver(), ""):
        route, entry = pattern
        if not route.startswith("api/v1/"):
            continue
        methods = getattr(entry.callback, "actions", None) or {"get": "get"}
        for method in methods:
            if method != "head":
                found[entry.name, method] = entry.callback
    return found


def _patterns(resolver: Any, route: str) -> list:
    found = []
    for entry in resolver.url_patterns:
        whole = route + str(entry.pattern)
        found += _patterns(entry, whole) if hasattr(entry, "url_patterns") else [(whole, entry)]
    return found
