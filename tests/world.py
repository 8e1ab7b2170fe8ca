"""One made record of each kind for the tables of pages and roles (see test_page_roles.py for `Row`)."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile

from inventory import actions as shelf
from studio.actions import invitations
from studio.actions import tokens as token_actions
from studio.actions.stations import set_up_station
from studio.roles import Role
from tests import make, photo_files
from tests.tiles.laboratory_world import LaboratoryWorld
from tiles import actions as wall
from tiles.actions.events import add_event
from tiles.actions.log_drafts import begin_draft
from tiles.actions.logs import keep_log, take_log_back
from tiles.actions.loose import add_loose_photo, pick_photo
from tiles.actions.many import repeat_tile
from tiles.causes import standard_text


@dataclass(frozen=True)
class Row:
    """What a page answers to each role. See the top of tests/test_page_roles.py."""

    url: str
    method: str = "get"
    kwargs: Callable[["World"], dict[str, Any]] = lambda world: {}
    data: Callable[["World"], dict[str, Any]] = lambda world: {}
    visitor: int = 302
    member: int = 200
    technician: int = 200
    manager: int = 200
    # Only for logging in and out: where a 302 leads is not looked at.
    anywhere: bool = False

    def __str__(self) -> str:
        return f"{self.method} {self.url}"


class World(LaboratoryWorld):
    """Each attribute is a record, made by the real actions when it is first asked for."""

    def __init__(self) -> None:
        self.studio = make.studio()
        self.manager = make.person(Role.MANAGER)
        self.technician = make.person(Role.TECHNICIAN)
        self.member = make.person(Role.MEMBER)
        self.other = make.person(Role.MEMBER, name="Second Member")

    # The shelf.
    @cached_property
    def glaze(self):
        return make.glaze("Weir Green", by=self.manager)

    @cached_property
    def place(self):
        return shelf.create_place(by=self.manager, name="Long shelf")

    @cached_property
    def bucket(self):
        """Holds `fill`."""
        return make.bucket(by=self.manager, place=self.place)

    @cached_property
    def fill(self):
        return make.fill(self.glaze, bucket_=self.bucket, by=self.manager, sg="1.45")

    @cached_property
    def empty_bucket(self):
        return make.bucket(by=self.manager)

    @cached_property
    def flag(self):
        """Open, raised by the member on `fill`."""
        raised = shelf.raise_flag(by=self.member, fill=self.fill, kind="dried_out")
        return raised[0] if isinstance(raised, tuple) else raised

    @cached_property
    def touched_tile(self):
        """Glazed out of `fill`."""
        return make.tile(layers=[{"fill": self.flag.fill}])

    @cached_property
    def flag_mark(self):
        """Of `touched_tile`, for `flag`."""
        self.touched_tile  # noqa: B018 - there has to be one
        return wall.mark_touched(by=self.manager, flag=self.flag)[0]

    @cached_property
    def class_list(self):
        """The member's, open today, with `fill` on it."""
        return make.class_list(self.fill, by=self.member)

    @cached_property
    def others_class(self):
        return make.class_list(self.fill, by=self.other)

    @cached_property
    def sg_round(self):
        """Open; its one stop is `fill`."""
        self.fill  # noqa: B018 - fills the bucket
        return shelf.start_round(by=self.member)

    @cached_property
    def flag_photo(self):
        """Of `flag`."""
        file = SimpleUploadedFile("lid.jpg", photo_files.jpeg(size=(300, 500)), content_type="image/jpeg")
        return shelf.add_flag_photo(by=self.member, flag=self.flag, file=file)

    # What was tried.
    @cached_property
    def body(self):
        return make.body("Weir Stoneware")

    @cached_property
    def kiln(self):
        return make.kiln("Kiln by the door")

    @cached_property
    def schedule(self):
        return make.schedule("Glaze to 6")

    @cached_property
    def firing(self):
        """Planned; nothing is in it."""
        return make.firing(self.kiln)

    @cached_property
    def fired(self):
        """A firing that is unloaded; `fired_tile` was in it."""
        return make.fire(make.firing(self.kiln), self._glazed)

    @cached_property
    def _glazed(self):
        return make.tile(
            "F1", by=self.member, body=self.body, layers=[{"fill": self.fill}, {"glaze": make.glaze()}]
        )

    @cached_property
    def fired_tile(self):
        """The member's, two layers, fired, not yet looked at."""
        self.fired  # noqa: B018 - fires it
        self._glazed.refresh_from_db()
        return self._glazed

    @cached_property
    def tile(self):
        """The member's, one layer, not fired."""
        return make.tile("M1", by=self.member, body=self.body, layers=[{"fill": self.fill}])

    @cached_property
    def layer(self):
        return self.tile.layers.get()

    @cached_property
    def underglazed(self):
        """The member's; nothing covers its underglaze, and that is said of it."""
        return make.tile("U1", by=self.member, layers=[{"glaze": make.glaze(kind="underglaze")}])

    @cached_property
    def bisque(self):
        """A bisque firing that takes tiles."""
        return make.firing(self.kiln, kind="bisque", target="04")

    @cached_property
    def others_tile(self):
        """Another member's, seen by the studio."""
        return make.tile("O1", by=self.other, body=self.body, layers=[{"glaze": self.glaze}])

    @cached_property
    def private_tile(self):
        """Another member's, seen by them and technicians."""
        return make.tile(
            "P1", by=self.other, body=self.body, layers=[{"glaze": self.glaze}], visibility="mine"
        )

    @cached_property
    def search(self):
        """The member's own."""
        return wall.save_search(by=self.member, name="Satin", query="surface=satin")

    @cached_property
    def shared_search(self):
        """Another member's, for everybody."""
        return wall.save_search(by=self.other, name="Dry", query="surface=dry", is_shared=True)

    @cached_property
    def open_tile(self):
        """On the open wall."""
        return make.tile(
            "W1", by=self.other, body=self.body, layers=[{"glaze": self.glaze}], visibility="open"
        )

    @cached_property
    def open_photo(self):
        """Of `open_tile`."""
        file = SimpleUploadedFile("tile.jpg", photo_files.jpeg(size=(300, 500)), content_type="image/jpeg")
        return wall.add_photo(by=self.other, tile=self.open_tile, file=file)

    @cached_property
    def combination(self):
        """Of the two layers of `fired_tile`."""
        return self.fired_tile.zones.order_by("-kind").first().combination

    @cached_property
    def outcome(self):
        return wall.record_outcome(by=self.member, tile=self.fired_tile, zone="whole", surface="satin")

    @cached_property
    def crazed(self):
        """The member's; one look noted that it crazed."""
        look = {"zone": "whole", "faults": [{"kind": "crazing", "where": "lip"}]}
        return make.fired_tile(number="C1", by=self.member, body=self.body, outcome=look)

    @cached_property
    def remedy(self):
        """Planned by the member against the crazing of `crazed`; its new tile was fired and looked at."""
        fields = {"fault": "crazing", "cause": "too_thick", "reserve": True}
        planned = wall.plan_remedy(by=self.member, tile=self.crazed, **fields)
        repeat_tile(by=self.member, source=self.crazed, tile=planned.new_tile)
        make.fire(make.firing(), planned.new_tile)
        wall.record_outcome(by=self.member, tile=planned.new_tile, zone="whole", surface="glossy")
        return planned

    @cached_property
    def cause_table(self):
        """A technician's, in force."""
        text = standard_text().replace("too thick", "much too thick")
        return wall.change_causes(by=self.technician, table=text, reason="our own words")

    @cached_property
    def photo(self):
        """Of `tile`."""
        file = SimpleUploadedFile("tile.jpg", photo_files.jpeg(size=(300, 500)), content_type="image/jpeg")
        return wall.add_photo(by=self.member, tile=self.tile, file=file)

    @cached_property
    def private_photo(self):
        """Of `private_tile`."""
        file = SimpleUploadedFile("tile.jpg", photo_files.jpeg(size=(300, 500)), content_type="image/jpeg")
        return wall.add_photo(by=self.other, tile=self.private_tile, file=file)

    @cached_property
    def others_photo(self):
        """Of `others_tile`."""
        file = SimpleUploadedFile("tile.jpg", photo_files.jpeg(size=(300, 500)), content_type="image/jpeg")
        return wall.add_photo(by=self.other, tile=self.others_tile, file=file)

    @cached_property
    def loose_photo(self):
        """The member's, of the unloading of `fired`, not sorted."""
        file = SimpleUploadedFile("kiln.jpg", photo_files.jpeg(size=(500, 300)), content_type="image/jpeg")
        return add_loose_photo(by=self.member, firing=self.fired, file=file)

    @cached_property
    def sorted_photo(self):
        """The member's, on `fired_tile` by a pick."""
        file = SimpleUploadedFile("kiln.jpg", photo_files.jpeg(size=(400, 300)), content_type="image/jpeg")
        loose = add_loose_photo(by=self.member, firing=self.fired, file=file)
        pick_photo(by=self.member, loose=loose, tile=self.fired_tile)
        return loose

    @cached_property
    def number_run(self):
        """Two numbers that the member reserved."""
        return wall.reserve_numbers(by=self.member, count=2)[0].run

    # The log of a firing.
    @cached_property
    def hot(self):
        """A firing that is firing."""
        return wall.move_firing(by=self.manager, firing=make.firing(), state="firing")

    @cached_property
    def logged(self):
        """A firing that is unloaded and has a log."""
        firing = make.fire(make.firing(self.kiln))
        keep_log(by=self.member, firing=firing, seconds=[0, 3600, 28_800], celsius=[20, 150, 1222])
        return firing

    @cached_property
    def log_taken_back(self):
        """Of `fired`."""
        keep_log(by=self.member, firing=self.fired, seconds=[0, 60], celsius=[20, 21])
        return take_log_back(by=self.manager, firing=self.fired, reason="too short")

    @cached_property
    def log_drafts(self):
        """Of `fired`, the member's and the others'."""
        text = b"s,C\n0,20\n60,22\n120,25\n"
        return [
            begin_draft(by=person, firing=self.fired, file=SimpleUploadedFile("kiln.csv", text))
            for person in (self.member, self.technician, self.manager)
        ]

    @cached_property
    def event(self):
        """The member's, of `fired`."""
        return add_event(by=self.member, firing=self.fired, words="vent closed")

    @cached_property
    def others_event(self):
        """Another member's, of `fired`."""
        return add_event(by=self.other, firing=self.fired, words="a look in")

    # The place.
    @cached_property
    def invitation(self):
        return self._invited[0]

    @cached_property
    def invitation_secret(self) -> str:
        return self._invited[1]

    @cached_property
    def _invited(self):
        return invitations.invite(by=self.manager, role=Role.MEMBER, note="the new glazer")

    @cached_property
    def station(self):
        """Another browser's."""
        return set_up_station(by=self.manager, name="Glaze table")[0]

    @cached_property
    def token(self):
        """The member's."""
        return token_actions.issue_token(by=self.member, name="spreadsheet")[0]
