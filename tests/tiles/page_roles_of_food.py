"""A planned pot, what is in a glaze, and a label that was misread. See tests/test_page_roles.py."""

from inventory import actions as shelf
from tests import make
from tests.world import Row

DONE = {"member": 302, "technician": 302, "manager": 302}
INSIDE = {"substance": "Co", "read_in": "maker", "read_on": "2026-03-04"}


def noted_by(who):
    def kwargs(world):
        row = shelf.note_substance(
            by=getattr(world, who), glaze=world.glaze, substance="Pb", read_in="container"
        )
        return {"pk": world.glaze.pk, "row": row.pk}

    return kwargs


def misread(world):
    return {"pk": make.fill(make.glaze(origin="bought"), label="not_for_food").pk}


def glaze(world):
    return {"pk": world.glaze.pk}


WHY = {"reason": "that was another jar"}
ROWS = [
    Row("tiles:pot"),
    Row(
        "tiles:pot",
        data=lambda w: {"layer": [f"fill-{w.fill.pk}", "nonsense"], "cone": "6", "body": w.body.pk},
    ),
    Row("inventory:substance-new", kwargs=glaze),
    Row("inventory:substance-new", "post", kwargs=glaze, data=lambda w: INSIDE, **DONE),
    Row("inventory:substance-back", kwargs=noted_by("member")),
    Row("inventory:substance-back", "post", kwargs=noted_by("member"), data=lambda w: WHY, **DONE),
    Row(
        "inventory:substance-back",
        "post",
        kwargs=noted_by("other"),
        data=lambda w: WHY,
        member=403,
        technician=302,
        manager=302,
    ),
    Row("inventory:label-mistaken", kwargs=misread, member=403),
    Row(
        "inventory:label-mistaken",
        "post",
        kwargs=misread,
        data=lambda w: WHY,
        member=403,
        technician=302,
        manager=302,
    ),
]
