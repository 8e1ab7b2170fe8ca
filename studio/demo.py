"""The demo studio: invented people and records from fixtures/demo, loaded by the real actions."""

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal
from functools import cached_property
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from studio.actions.founding import found_studio
from studio.actions.invitations import accept_invitation, invite
from studio.actions.stations import set_pin
from studio.models import Person
from studio.registry import demo_loaders

DEMO_DIR = settings.FIXTURES_DIR / "demo"


@dataclass
class DemoHouse:
    """What the loaders hand on: records by kind and the key that the CSV files give them, and who made them."""

    now: datetime = field(default_factory=timezone.now)
    # How many tiles at least hang on the wall; None for those of the fixtures.
    tiles: int | None = None
    records: dict[str, dict[str, Any]] = field(default_factory=dict)
    # What happened after everything else was logged, such as the flag that touches older tiles.
    afterwards: list[Callable[["DemoHouse"], None]] = field(default_factory=list)

    def keep(self, kind: str, key: str, record: Any) -> None:
        self.records.setdefault(kind, {})[key] = record

    def get(self, kind: str, key: str) -> Any:
        """The record of a key, None for an empty one."""
        return self.records[kind][key] if key else None

    def person(self, key: str) -> Person:
        return self.records["person"][key or "maren"]

    @cached_property
    def manager(self) -> Person:
        return self.person("")

    def moment(self, days_ago: str) -> datetime | None:
        """A moment so many days before now; None for an empty cell."""
        return self.now - timedelta(days=float(days_ago)) if days_ago else None

    def day(self, days_ago: str) -> date | None:
        moment = self.moment(days_ago)
        return timezone.localdate(moment) if moment else None


def rows(name: str) -> Iterator[dict[str, str]]:
    """The rows of fixtures/demo/<name>.csv."""
    with (DEMO_DIR / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def said(row: dict[str, str], *names: str) -> dict[str, Any]:
    """The named cells that are not empty."""
    return {name: row[name] for name in names if row[name]}


def numbers(row: dict[str, str], *names: str) -> dict[str, Any]:
    """The named cells that are not empty, as numbers."""
    return {name: Decimal(text) for name, text in said(row, *names).items()}


def demo_people() -> list[dict[str, str]]:
    """One log-in for each role: the demo's only."""
    by_role: dict[str, dict[str, str]] = {}
    for row in rows("people"):
        by_role.setdefault(row["role"], row)
    return sorted(by_role.values(), key=lambda row: ["member", "technician", "manager"].index(row["role"]))


@transaction.atomic
def load_demo(tiles: int | None = None) -> DemoHouse:
    """Load everything or nothing, in the order in which the apps registered their loaders."""
    house = DemoHouse(tiles=tiles)
    for load in [*demo_loaders]:
        load(house)
    for load in house.afterwards:
        load(house)
    return house


def load_people(house: DemoHouse) -> None:
    """The studio, its first manager, and the others by invitation; PINs for a tablet at the glaze table."""
    first, *others = rows("people")
    _studio, manager = found_studio(
        studio={
            "name": "Millrace Clay Co-op",
            "time_zone": "Europe/Dublin",
            "language": "en",
            "price_per_kwh": Decimal("0.31"),
            "currency": "EUR",
        },
        username=first["username"],
        name=first["name"],
        password=first["password"],
        is_demo=True,
    )
    house.keep("person", first["username"], manager)
    for row in others:
        _invitation, secret = invite(by=manager, role=row["role"], note=row["name"])
        person = accept_invitation(
            secret=secret, username=row["username"], name=row["name"], password=row["password"]
        )
        house.keep("person", row["username"], person)
    for row in rows("people"):
        if row["pin"]:
            set_pin(by=house.person(row["username"]), pin=row["pin"])
