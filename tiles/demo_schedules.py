"""The demo's schedules; a segment is written as 60>1210+15: 60 °C/h to 1210 °C, hold 15 minutes."""

from inventory.demo import cones
from studio.demo import DemoHouse, rows, said
from tiles import actions


def load_schedules(house: DemoHouse) -> None:
    for row in rows("schedules"):
        schedule = actions.create_schedule(
            by=house.manager,
            name=row["name"],
            kind=row["kind"],
            segments=[_segment(text) for text in row["segments"].split("|")],
            **cones(row, "target_cone"),
            **said(row, "remark"),
        )
        house.keep("schedule", row["key"], schedule)


def _segment(text: str) -> dict[str, float | None]:
    rate, _arrow, rest = text.partition(">")
    to, _plus, hold = rest.partition("+")
    return {
        "rate_c_per_h": None if rate == "fast" else float(rate),
        "to_c": float(to),
        "hold_min": float(hold or 0),
    }
