"""What the apps hang on the place, each in its `ready()`: studio never imports upward.

- a *kind* of record: how its history is found and whether a person may see it
- a *panel*: a template fragment that an app adds to another app's page
- a *demo loader*, a *doctor check*
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Model, QuerySet, UUIDField


@dataclass(frozen=True)
class Kind:
    """A record that has a history. `visible_to(person)` is the queryset that the person may see.

    `kept_from(person, record)` names the fields whose values the person does not read, in the history either.
    """

    label: str
    name: Any
    visible_to: Callable[[Any], QuerySet]
    url: Callable[[Any], str]
    kept_from: Callable[[Any, Any], Collection[str]] = lambda person, record: ()

    def record(self, person: Any, id: UUID) -> Model | None:
        """The record whose history has this id, if the person may see it; a plain number is written into the UUID."""
        rows = self.visible_to(person)
        key = id if isinstance(rows.model._meta.pk, UUIDField) else id.int
        return rows.filter(pk=key).first()


@dataclass(frozen=True)
class Panel:
    """A fragment on another app's page: `context(request, record)` feeds `template`; None leaves it out."""

    page: str
    template: str
    context: Callable[[Any, Any], dict | None]


@dataclass(frozen=True)
class NavItem:
    """A word of the top line and bottom bar (`where` 'frame'), or a line of the page "More" ('more').

    `act` is the row of the role table that lets a person see it; a phone shows at most five words of the frame.
    `home` marks the one word of the frame that a person comes to after logging in.
    """

    order: int
    word: Any
    url_name: str
    act: str = "studio.see"
    where: str = "frame"
    emphasised: bool = False
    home: bool = False


kinds: dict[str, Kind] = {}
nav: list[NavItem] = []
panels: list[Panel] = []
demo_loaders: list[Callable[[Any], None]] = []
doctor_checks: list[tuple[str, Callable[[], list[str]]]] = []


def register_kind(label: str, name: Any, visible_to: Callable, url: Callable, **kept: Callable) -> None:
    """`label` is Django's model label in lower case, such as 'inventory.bucket'."""
    kinds[label] = Kind(label, name, visible_to, url, **kept)


def register_nav(*items: NavItem) -> None:
    for item in items:
        if item not in nav:
            nav.append(item)
    nav.sort(key=lambda item: item.order)


def register_panel(page: str, template: str, context: Callable) -> None:
    panel = Panel(page, template, context)
    if panel not in panels:
        panels.append(panel)


def register_demo_loader(load: Callable[[Any], None]) -> None:
    """`load(house)` adds an app's part to the demo studio (studio.demo.DemoHouse), after the apps below it."""
    if load not in demo_loaders:
        demo_loaders.append(load)


def register_doctor_check(name: str, check: Callable[[], list[str]]) -> None:
    """`check()` returns a sentence for everything that is wrong."""
    if (name, check) not in doctor_checks:
        doctor_checks.append((name, check))


def panels_for(page: str, request: Any, record: Any) -> list[tuple[str, dict]]:
    """(template, context) of every panel of `page` that has something to say about `record`."""
    found = []
    for panel in panels:
        if panel.page == page and (context := panel.context(request, record)) is not None:
            found.append((panel.template, context))
    return found
