"""The pages of a fill's life and of the SG round. See tests/test_page_roles.py."""

from inventory import actions as shelf
from tests import make
from tests.world import Row

DONE = {"member": 302, "technician": 302, "manager": 302}
TECHNICIANS = {"member": 403}
DONE_BY_TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}


def code(world):
    world.fill  # noqa: B018 - fills it
    return {"code": world.bucket.code}


def filled_jar(world):
    """The member's."""
    jar = make.bucket(by=world.member, owner=world.member)
    make.fill(world.glaze, bucket_=jar, by=world.member)
    return {"code": jar.code}


def former(world):
    return {"pk": shelf.wash_out(by=world.manager, fill=world.fill, why="gone bad").pk}


def sg_round(world):
    return {"pk": world.sg_round.pk}


def poured(world):
    return {"way": "out_of", "other": make.fill(world.glaze, by=world.manager).bucket.code}


def into_the_jar(world):
    return {"way": "out_of", "other": filled_jar(world)["code"]}


ROWS = [
    Row("inventory:fill", kwargs=former),
    Row("inventory:top-up", kwargs=code, **TECHNICIANS),
    Row("inventory:top-up", "post", kwargs=code, data=lambda w: {"volume_ml": "500"}, **DONE_BY_TECHNICIANS),
    Row("inventory:top-up", "post", kwargs=filled_jar, data=lambda w: {"volume_ml": "50"}, **DONE),
    Row("inventory:treatment-new", kwargs=code),
    Row("inventory:treatment-new", "post", kwargs=code, data=lambda w: {"kind": "stirred"}, **DONE),
    Row("inventory:pour", kwargs=code),
    Row("inventory:pour", "post", kwargs=code, data=poured, **DONE_BY_TECHNICIANS),
    Row("inventory:pour", "post", kwargs=code, data=into_the_jar, **DONE),
    Row("inventory:revive", kwargs=code, **TECHNICIANS),
    Row("inventory:revive", "post", kwargs=code, data=lambda w: {"water_ml": "900"}, **DONE_BY_TECHNICIANS),
    Row("inventory:wash-out", kwargs=code, **TECHNICIANS),
    Row("inventory:wash-out", "post", kwargs=code, data=lambda w: {"why": "bad"}, **DONE_BY_TECHNICIANS),
    Row("inventory:round"),
    Row(
        "inventory:round",
        "post",
        data=lambda w: {"cup_ml": "100", "cup_g": "0"} if w.fill else {},
        **DONE,
    ),
    Row("inventory:round-walk", kwargs=sg_round),
    Row(
        "inventory:round-walk", "post", kwargs=sg_round, data=lambda w: {"stop": 1, "gross_g": "147"}, **DONE
    ),
    Row("inventory:round-cup", kwargs=sg_round),
    Row(
        "inventory:round-cup", "post", kwargs=sg_round, data=lambda w: {"cup_ml": "200", "cup_g": "9"}, **DONE
    ),
    Row("inventory:round-pass", "post", kwargs=sg_round, data=lambda w: {"stop": 1, "why": "away"}, **DONE),
    Row("inventory:round-finish", "post", kwargs=sg_round, **DONE),
    Row("inventory:round-summary", kwargs=sg_round),
]
