"""One laboratory report and one trial at home of each kind, for the tables of pages and roles."""

from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile

from tests import make, photo_files
from tiles.actions.home_trials import add_trial_photo, begin_trial
from tiles.actions.laboratory import create_report


class LaboratoryWorld:
    """To be mixed into the World."""

    manager: Any
    member: Any
    other: Any
    fired_tile: Any
    private_tile: Any

    @cached_property
    def report(self):
        """Of a mug that is no tile, with a file."""
        return self._report()

    @cached_property
    def private_report(self):
        return self._report(tile=self.private_tile)

    def _report(self, **fields: Any):
        return create_report(
            by=self.manager,
            laboratory="Sluice Analytics",
            tested_on=date(2026, 3, 2),
            standard="canada",
            category="cups-and-mugs",
            figures=[
                {
                    "piece": 1,
                    "metal": "Pb",
                    "unit": "mg_per_l",
                    "amount": Decimal("0.1"),
                    "is_below": False,
                }
            ],
            file=SimpleUploadedFile("report.pdf", b"%PDF-1.4 a report"),
            **fields,
        )

    @cached_property
    def trial(self):
        """The member's, on `fired_tile`, still running."""
        return begin_trial(by=self.member, tile=self.fired_tile, kind="acid", done="vinegar, three days")

    @cached_property
    def others_trial(self):
        """Another member's, on a tile of theirs."""
        tile = make.fired_tile(by=self.other)
        return begin_trial(by=self.other, tile=tile, kind="cutlery", done="a steel knife")

    @cached_property
    def trial_photo(self):
        """Before `trial`."""
        file = SimpleUploadedFile("tile.jpg", photo_files.jpeg(size=(320, 500)), content_type="image/jpeg")
        return add_trial_photo(by=self.member, trial=self.trial, file=file, stage="before")
