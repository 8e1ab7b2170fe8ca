"""What the apps hang on the place, each in its `ready()`: studio never imports upward.

- a *kind* of record: how its history is found and whether a person may see it
- a *panel*: a template fragment that an app adds to another app's page
- what is *due*, for the page Today, and a *first step* of a new studio
- a *demo loader*, a *doctor check*
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.db.models import Model, QuerySet, UUIDField
from django.utils.translation import gettext_lazy as _


@dataclass(frozen=True)
class Kind:
    """A record that has a history. `visible_to(person)` is the queryset that the person may see.

    `kept_from(person, record)` names the fields whose values the person does not read, in the history either.
    `words` says by field how a value that is no plain one reads in the history.
    """

    label: str
    name: Any
    visible_to: Callable[[Any], QuerySet]
    url: Callable[[Any], str]
    kept_from: Callable[[Any, Any], Collection[str]] = lambda person, record: ()
    words: Mapping[str, Callable[[Any], str]] = field(default_factory=dict)

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


MORE = {  # where a line of the page "More" stands: its heading
    "mine": _("You"),
    "tiles": _("Tiles"),
    "buckets": _("Buckets and glazes"),
    "kilns": _("Clay and kilns"),
    "studio": _("The studio"),
}


@dataclass(frozen=True)
class NavItem:
    """A word of the top line and bottom bar (`where` 'frame'), or a line of the page "More" under one of MORE.

    `act` is the row of the role table that lets a person see it; a phone shows at most five words of the frame.
    """

    order: int
    word: Any
    url_name: str
    act: str = "studio.see"
    where: str = "frame"
    emphasised: bool = False


@dataclass(frozen=True)
class Due:
    """One thing that needs somebody: what it is, why in a few words, and where that is done.

    `kind` and `id` name the record; `values` is what the group's picture draws.
    """

    kind: str
    id: UUID
    name: str
    words: str
    url: str
    is_mine: bool = False
    values: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class DueGroup:
    """Things of one kind that are due: `count` of them all, the first few as `items`. `act` says what is to be done."""

    kind: str
    order: int
    title: Any
    act: Any
    picture: str
    count: int
    items: list[Due]

    @property
    def is_mine(self) -> bool:
        return any(item.is_mine for item in self.items)


@dataclass(frozen=True)
class FirstStep:
    """What a new studio is set up with, in its `order`; it goes from the list once `is_done()`."""

    order: int
    words: Any
    why: Any
    url_name: str
    act: str
    is_done: Callable[[], bool]


kinds: dict[str, Kind] = {}
nav: list[NavItem] = []
panels: list[Panel] = []
due_finders: list[Callable[[Any, int], Iterable[DueGroup]]] = []
first_steps: list[FirstStep] = []
demo_loaders: list[Callable[[Any], None]] = []
doctor_checks: list[tuple[str, Callable[[], list[str]]]] = []


def register_kind(label: str, name: Any, visible_to: Callable, url: Callable, **more: Any) -> None:
    """`label` is Django's model label in lower case, such as 'inventory.bucket'."""
    kinds[label] = Kind(label, name, visible_to, url, **more)


def register_nav(*items: NavItem) -> None:
    for item in items:
        if item not in nav:
            nav.append(item)
    nav.sort(key=lambda item: item.order)


def register_panel(page: str, template: str, context: Callable) -> None:
    panel = Panel(page, template, context)
    if panel not in panels:
        panels.append(panel)


def register_due(find: Callable[[Any, int], Iterable[DueGroup]]) -> None:
    """`find(person, most)` gives what needs the person, at most so many items to a group.

    The number of queries does not grow with what is due.
    """
    if find not in due_finders:
        due_finders.append(find)


def register_first_step(*steps: FirstStep) -> None:
    for step in steps:
        if step not in first_steps:
            first_steps.append(step)
    first_steps.sort(key=lambda step: step.order)


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
