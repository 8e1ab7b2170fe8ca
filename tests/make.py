"""Records for tests, each made by the real actions. Names are invented."""

from datetime import timedelta
from decimal import Decimal
from itertools import count
from typing import Any

from django.utils import timezone

from inventory import actions as shelf
from inventory.calc.cones import Cone
from studio.models import Person, Studio
from studio.roles import Role
from tiles import actions as wall

PASSWORD = "wet-clay-and-water"
_n = count(1)


def studio(**fields: Any) -> Studio:
    return Studio.objects.get_or_create(pk=1, defaults={"name": "Millrace Clay Co-op", **fields})[0]


def person(role: str = Role.MEMBER, **fields: Any) -> Person:
    n = next(_n)
    made = Person(username=f"{role}{n}", name=fields.pop("name", f"{role.title()} {n}"), role=role, **fields)
    made.set_password(PASSWORD)
    made.save()
    return made


def manager() -> Person:
    """The one manager who makes what a test does not care about."""
    return Person.objects.filter(role=Role.MANAGER).first() or person(Role.MANAGER)


def cone(text: str | None) -> Cone | None:
    return None if text is None else Cone.parse(text)


def glaze(
    name: str = "", *, low: str | None = "5", high: str | None = "6", by: Person | None = None, **fields: Any
):
    return shelf.create_glaze(
        by=by or manager(),
        name=name or f"Millrace Glaze {next(_n)}",
        cone_low=cone(low),
        cone_high=cone(high),
        **fields,
    )


def bucket(*, by: Person | None = None, **fields: Any):
    return shelf.create_bucket(by=by or manager(), **{"capacity_ml": 10000, **fields})


def fill(
    glaze_: Any = None,
    *,
    bucket_: Any = None,
    by: Person | None = None,
    days_ago: float = 30,
    sg: str | None = None,
    **fields: Any,
):
    """A fill that has stood for `days_ago` days; with `sg`, measured now."""
    made = shelf.start_fill(
        by=by or manager(),
        bucket=bucket_ or bucket(),
        glaze=glaze_ or glaze(),
        started_at=timezone.now() - timedelta(days=days_ago),
        **fields,
    )
    if sg:
        shelf.add_reading(by=by or manager(), fill=made, specific_gravity=Decimal(sg))
    return made


def class_list(*fills: Any, by: Person | None = None, days: int = 7, **fields: Any):
    """Open from today on."""
    today = timezone.localdate()
    return shelf.create_class_list(
        by=by or manager(),
        fills=fills,
        **{
            "name": "Tuesday evening",
            "starts_on": today,
            "ends_on": today + timedelta(days=days),
            **fields,
        },
    )


def body(
    name: str = "", *, low: str | None = "5", high: str | None = "7", bisque: str | None = "04", **fields: Any
):
    return wall.create_body(
        by=manager(),
        name=name or f"Weir Stoneware {next(_n)}",
        cone_low=cone(low),
        cone_high=cone(high),
        bisque_cone=cone(bisque),
        **fields,
    )


def kiln(name: str = "", *, highest: str | None = "8", **fields: Any):
    return wall.create_kiln(
        by=manager(), name=name or f"Kiln {next(_n)}", highest_cone=cone(highest), **fields
    )


SEGMENTS = [
    {"rate_c_per_h": 100, "to_c": 600, "hold_min": 0},
    {"rate_c_per_h": 150, "to_c": 1100, "hold_min": 0},
    {"rate_c_per_h": 60, "to_c": 1222, "hold_min": 5},
]


def schedule(name: str = "", *, target: str | None = "6", segments: list[dict] | None = None, **fields: Any):
    return wall.create_schedule(
        by=manager(),
        name=name or f"Schedule {next(_n)}",
        target_cone=cone(target),
        segments=segments or SEGMENTS,
        **fields,
    )


def tile(number: str = "", *, by: Person | None = None, layers: list[dict] | None = None, **fields: Any):
    """A tile with layers, each a dict of add_layer's fields."""
    return wall.create_tile_whole(
        by=by or manager(), number=number or f"T{next(_n)}", layers=layers or [], **fields
    )


def firing(kiln_: Any = None, *, target: str = "6", kind: str = "glaze", **fields: Any):
    return wall.plan_firing(by=manager(), kiln=kiln_ or kiln(), target_cone=cone(target), kind=kind, **fields)


def fire(firing_: Any, *tiles: Any, witness: list[dict] | None = None, stop: bool = False):
    """Load, fire and unload; `witness` as set_witness_cones takes it."""
    by = manager()
    for t in tiles:
        wall.load_tile(by=by, firing=firing_, tile=t)
    wall.move_firing(by=by, firing=firing_, state="firing")
    if stop:
        return wall.move_firing(by=by, firing=firing_, state="stopped")
    wall.move_firing(by=by, firing=firing_, state="cooling")
    if witness:
        wall.set_witness_cones(by=by, firing=firing_, cones=witness)
    wall.move_firing(by=by, firing=firing_, state="unloaded")
    for t in tiles:
        t.refresh_from_db()
    return firing_


def fired_tile(*, target: str = "6", outcome: dict | None = None, **fields: Any):
    """A tile of one glaze layer that was fired to `target` and looked at once."""
    fields.setdefault("layers", [{"glaze": glaze()}])
    made = tile(**fields)
    fire(firing(target=target), made)
    if outcome is not None:
        wall.record_outcome(by=made.maker, tile=made, **outcome)
    made.refresh_from_db()
    return made
