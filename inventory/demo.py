"""The demo's shelf: places, glazes, buckets with their lives, and what went wrong with them."""

from datetime import timedelta
from typing import Any

from inventory import actions
from inventory.calc.cones import Cone
from inventory.models import Flag
from studio.demo import DemoHouse, numbers, rows, said


def cones(row: dict[str, str], *names: str) -> dict[str, Any]:
    """The named cells that are not empty, as cones."""
    return {name: Cone.parse(text) for name, text in said(row, *names).items()}


def load_shelf(house: DemoHouse) -> None:
    _places(house)
    _glazes(house)
    _substances(house)
    _buckets(house)
    _fills(house)
    _entries(house)
    # A class takes from what the flags have not barred yet.
    _classes(house)
    # Layers keep the standing of their day, so flags are raised when the layers are there.
    house.afterwards.append(_flags)


def _places(house: DemoHouse) -> None:
    for row in rows("places"):
        place = actions.create_place(
            by=house.manager,
            name=row["name"],
            kind=row["kind"],
            parent=house.get("place", row["parent"]),
            order=int(row["order"]),
        )
        house.keep("place", row["key"], place)


def _glazes(house: DemoHouse) -> None:
    words = ["kind", "origin", "maker", "product_code", "surface", "opacity", "colour"]
    words += ["claim", "health_statement", "remark"]
    for row in rows("glazes"):
        glaze = actions.create_glaze(
            by=house.manager,
            name=row["name"],
            **said(row, *words),
            **cones(row, "cone_low", "cone_high"),
            **numbers(row, "sg_low", "sg_high"),
        )
        house.keep("glaze", row["key"], glaze)


def _substances(house: DemoHouse) -> None:
    for row in rows("substances"):
        actions.note_substance(
            by=house.person(row["by"]),
            glaze=house.get("glaze", row["glaze"]),
            read_on=house.day(row["days_ago"]),
            **said(row, "substance", "read_in", "words"),
            **numbers(row, "percent"),
        )


def _buckets(house: DemoHouse) -> None:
    for row in rows("buckets"):
        owner = house.person(row["owner"]) if row["owner"] else None
        bucket = actions.create_bucket(
            by=owner or house.manager,
            owner=owner,
            code=row["code"],
            place=house.get("place", row["place"]),
            capacity_ml=int(row["capacity_ml"]),
            inner_height_mm=int(row["inner_height_mm"]) if row["inner_height_mm"] else None,
            tare_g=int(row["tare_g"]) if row["tare_g"] else None,
            remark=row["remark"],
        )
        house.keep("bucket", row["key"], bucket)


def _fills(house: DemoHouse) -> None:
    for row in rows("fills"):
        bucket = house.get("bucket", row["bucket"])
        by = bucket.owner or house.manager
        fill = actions.start_fill(
            by=by,
            bucket=bucket,
            glaze=house.get("glaze", row["glaze"]),
            made_on=house.day(row["made_days_ago"]),
            started_at=house.moment(row["started_days_ago"]),
            **said(row, "lot", "level", "label", "label_condition", "child_fit", "container_size", "remark"),
            **numbers(row, "price"),
        )
        house.keep("fill", row["key"], fill)
        if row["ended_days_ago"]:
            actions.end_fill(
                by=by, fill=fill, why=row["ended_why"], ended_at=house.moment(row["ended_days_ago"])
            )


def _entries(house: DemoHouse) -> None:
    for row in rows("readings"):
        actions.add_reading(
            by=house.person(row["by"]),
            fill=house.get("fill", row["fill"]),
            taken_at=house.moment(row["days_ago"]),
            **numbers(row, "specific_gravity"),
            **said(row, "method", "remark"),
        )
    for row in rows("stock"):
        actions.add_stock_entry(
            by=house.person(row["by"]),
            fill=house.get("fill", row["fill"]),
            kind=row["kind"],
            at=house.moment(row["days_ago"]),
            **numbers(row, "volume_ml", "depth_mm"),
            **said(row, "level", "remark"),
        )
    for row in rows("transfers"):
        actions.transfer(
            by=house.person(row["by"]),
            source=house.get("fill", row["source"]),
            target=house.get("fill", row["target"]),
            at=house.moment(row["days_ago"]),
            **numbers(row, "volume_ml"),
            **said(row, "remark"),
        )
    for row in rows("treatments"):
        actions.treat(
            by=house.person(row["by"]),
            fill=house.get("fill", row["fill"]),
            kind=row["kind"],
            at=house.moment(row["days_ago"]),
            **numbers(row, "amount_g", "amount_ml"),
            **said(row, "tool", "mesh", "material", "remark"),
        )


def _classes(house: DemoHouse) -> None:
    for row in rows("class_lists"):
        starts_on = house.now.date() - timedelta(days=int(row["started_days_ago"]))
        class_list = actions.create_class_list(
            by=house.person(row["teacher"]),
            name=row["name"],
            for_children=bool(row["children"]),
            starts_on=starts_on,
            ends_on=starts_on + timedelta(days=int(row["lasts_days"])),
            fills=[house.get("fill", key) for key in row["fills"].split("|")],
        )
        house.keep("class_list", row["key"], class_list)
    for row in rows("class_entries"):
        actions.add_class_entry(
            class_list=house.get("class_list", row["class_list"]),
            fill=house.get("fill", row["fill"]),
            makers=int(row["makers"]),
            pieces=int(row["pieces"]) if row["pieces"] else None,
            **numbers(row, "volume_ml"),
            **said(row, "remark"),
        )


def _flags(house: DemoHouse) -> None:
    for row in rows("flags"):
        flag = actions.raise_flag(
            by=house.person(row["by"]),
            fill=house.get("fill", row["fill"]),
            kind=row["kind"],
            note=row["note"],
            since=house.moment(row["since_days_ago"]),
        )
        if row["outcome"] != Flag.Outcome.OPEN:
            actions.clear_flag(
                by=house.person(row["closed_by"]),
                flag=flag,
                outcome=row["outcome"],
                note=row["outcome_note"],
                put_right_at=house.moment(row["put_right_days_ago"]),
            )
