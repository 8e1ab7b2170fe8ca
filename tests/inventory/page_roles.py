"""The shelf's pages. See tests/test_page_roles.py."""

from tests import make
from tests.world import Row

DONE = {"member": 302, "technician": 302, "manager": 302}
TECHNICIANS = {"member": 403}
DONE_BY_TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}


def code(world):
    world.fill  # noqa: B018 - fills it
    return {"code": world.bucket.code}


def empty(world):
    return {"code": world.empty_bucket.code}


def fill(world):
    return {"pk": world.fill.pk}


def flag(world):
    return {"pk": world.flag.pk}


def glaze(world):
    return {"pk": world.glaze.pk}


def place(world):
    return {"pk": world.place.pk}


def own_jar(world):
    """The member's."""
    return {"code": make.bucket(by=world.member, owner=world.member).code}


def glaze_data(world):
    return {"name": "Ash", "kind": "glaze", "origin": "mixed"}


def place_data(world):
    return {"name": "Window", "kind": "shelf", "order": 1}


ROWS = [
    Row("bucket", kwargs=code, visitor=200),
    Row("bucket", kwargs=empty, visitor=200),
    Row("bucket", kwargs=lambda w: {"code": "ZZZZZZ"}, visitor=404, member=404, technician=404, manager=404),
    Row("inventory:bucket-find", visitor=200),
    Row("inventory:shelf"),
    Row("inventory:reading-new", kwargs=code),
    Row(
        "inventory:reading-new",
        "post",
        kwargs=code,
        data=lambda w: {"specific_gravity": "1.45", "method": "weighed"},
        **DONE,
    ),
    Row("inventory:flag-new", kwargs=code),
    Row("inventory:flag-new", "post", kwargs=code, data=lambda w: {"kind": "contaminated"}, **DONE),
    Row("inventory:stock-new", kwargs=code),
    Row(
        "inventory:stock-new", "post", kwargs=code, data=lambda w: {"kind": "level", "level": "half"}, **DONE
    ),
    Row("inventory:fill-new", kwargs=empty, **TECHNICIANS),
    Row(
        "inventory:fill-new",
        "post",
        kwargs=empty,
        data=lambda w: {"glaze": w.glaze.pk},
        **DONE_BY_TECHNICIANS,
    ),
    Row("inventory:fill-new", "post", kwargs=own_jar, data=lambda w: {"glaze": w.glaze.pk}, **DONE),
    Row("inventory:fill-edit", kwargs=fill, **TECHNICIANS),
    Row("inventory:fill-edit", "post", kwargs=fill, data=lambda w: {"lot": "L-4"}, **DONE_BY_TECHNICIANS),
    Row("inventory:fill-end", kwargs=fill, **TECHNICIANS),
    Row("inventory:fill-end", "post", kwargs=fill, data=lambda w: {"why": "used up"}, **DONE_BY_TECHNICIANS),
    Row("inventory:bucket-new"),
    Row("inventory:bucket-new", "post", **DONE),
    Row("inventory:bucket-edit", kwargs=empty, **TECHNICIANS),
    Row("inventory:bucket-edit", "post", kwargs=empty, **DONE_BY_TECHNICIANS),
    Row("inventory:bucket-edit", "post", kwargs=own_jar, **DONE),
    Row("inventory:bucket-archive", kwargs=empty, **TECHNICIANS),
    Row("inventory:bucket-archive", "post", kwargs=empty, **DONE_BY_TECHNICIANS),
    Row("inventory:bucket-archive", "post", kwargs=own_jar, **DONE),
    Row("inventory:bucket-label", kwargs=code),
    Row("inventory:flag-list"),
    Row("inventory:flag", kwargs=flag),
    Row("inventory:flag-note", kwargs=flag),
    Row("inventory:flag-note", "post", kwargs=flag, data=lambda w: {"text": "seen again"}, **DONE),
    Row("inventory:flag-withdraw", kwargs=flag),
    # The world's member raised it, and nobody else may take it back.
    Row("inventory:flag-withdraw", "post", kwargs=flag, member=302, technician=403, manager=403),
    Row("inventory:flag-clear", kwargs=flag, **TECHNICIANS),
    Row(
        "inventory:flag-clear",
        "post",
        kwargs=flag,
        data=lambda w: {"outcome": "put_right"},
        **DONE_BY_TECHNICIANS,
    ),
    Row("inventory:glaze-list"),
    Row("inventory:glaze", kwargs=glaze),
    Row("inventory:glaze-new", **TECHNICIANS),
    Row("inventory:glaze-new", "post", data=glaze_data, **DONE_BY_TECHNICIANS),
    Row("inventory:glaze-edit", kwargs=glaze, **TECHNICIANS),
    Row("inventory:glaze-edit", "post", kwargs=glaze, data=glaze_data, **DONE_BY_TECHNICIANS),
    Row("inventory:glaze-archive", kwargs=glaze, **TECHNICIANS),
    Row("inventory:glaze-archive", "post", kwargs=glaze, **DONE_BY_TECHNICIANS),
    Row("inventory:place-list"),
    Row("inventory:place-new", **TECHNICIANS),
    Row("inventory:place-new", "post", data=place_data, **DONE_BY_TECHNICIANS),
    Row("inventory:place-edit", kwargs=place, **TECHNICIANS),
    Row("inventory:place-edit", "post", kwargs=place, data=place_data, **DONE_BY_TECHNICIANS),
    Row("inventory:place-archive", kwargs=place, **TECHNICIANS),
    Row("inventory:place-archive", "post", kwargs=place, **DONE_BY_TECHNICIANS),
]
