"""The shelf's pages. See tests/test_page_roles.py."""

from datetime import date

from tests import make
from tests.inventory.page_roles_of_life import ROWS as LIFE_ROWS
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


def class_list(world):
    """The member's."""
    return {"pk": world.class_list.pk}


def others_class(world):
    return {"pk": world.others_class.pk}


def class_page(world):
    return {"secret": world.class_list.secret}


def class_data(world):
    return {
        "name": "Saturday",
        "starts_on": date.today().isoformat(),
        "ends_on": date.today().isoformat(),
        "fills": [world.fill.pk],
    }


# A list is its teacher's (the member's here) and the technicians'.
OTHERS = {"member": 404}
OTHERS_DONE = {"member": 404, "technician": 302, "manager": 302}
NOBODY = {"visitor": 404, "member": 404, "technician": 404, "manager": 404}


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
    Row("inventory:shelf-csv"),
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
    # Only for htmx; without it one is led to the form.
    Row("inventory:flag-reach", kwargs=code, member=302, technician=302, manager=302),
    Row("inventory:flag-photo", kwargs=flag),
    # Without a photo the page comes back and asks for one.
    Row("inventory:flag-photo", "post", kwargs=flag),
    Row("inventory:flag-photo-sized", kwargs=lambda w: {"pk": w.flag_photo.pk, "size": "small"}),
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
    Row("inventory:class-list-list"),
    Row("inventory:class-list-new"),
    Row("inventory:class-list-new", "post", data=class_data, **DONE),
    Row("inventory:class-list", kwargs=class_list),
    Row("inventory:class-list", kwargs=others_class, **OTHERS),
    Row("inventory:class-list-edit", kwargs=class_list),
    Row("inventory:class-list-edit", kwargs=others_class, **OTHERS),
    Row("inventory:class-list-edit", "post", kwargs=class_list, data=class_data, **DONE),
    Row("inventory:class-list-edit", "post", kwargs=others_class, data=class_data, **OTHERS_DONE),
    Row("inventory:class-list-paper", kwargs=class_list),
    Row("inventory:class-list-paper", kwargs=others_class, **OTHERS),
    Row("inventory:class-list-address", kwargs=class_list),
    Row("inventory:class-list-address", "post", kwargs=class_list, **DONE),
    Row("inventory:class-list-address", "post", kwargs=others_class, **OTHERS_DONE),
    Row("inventory:class-list-close", kwargs=class_list),
    Row("inventory:class-list-close", "post", kwargs=class_list, **DONE),
    Row("inventory:class-list-close", "post", kwargs=others_class, **OTHERS_DONE),
    # Without log-in: the address is the key.
    Row("inventory:class-page", kwargs=class_page, visitor=200),
    Row(
        "inventory:class-page",
        "post",
        kwargs=class_page,
        data=lambda w: {"fill": w.fill.pk, "makers": 8},
        visitor=302,
        anywhere=True,
        **DONE,
    ),
    Row("inventory:class-page", kwargs=lambda w: {"secret": "guessed"}, **NOBODY),
    Row("inventory:class-page", "post", kwargs=lambda w: {"secret": "guessed"}, **NOBODY),
    Row("inventory:register"),
    Row("inventory:register-csv"),
    Row("inventory:labels"),
    Row("inventory:labels", data=lambda w: {"bucket": w.bucket.code}),
    Row(
        "inventory:labels",
        "post",
        data=lambda w: {f"text_{w.bucket.code}": "Weir Green"},
        **DONE_BY_TECHNICIANS,
    ),
]

ROWS += LIFE_ROWS
