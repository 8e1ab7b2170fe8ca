"""Works fixtures/heat_work.csv out of fixtures/cones.csv."""

import csv
from typing import Any

from django.core.management.base import BaseCommand

from inventory.calc.cones import published
from tiles.calc.cone_fit import Fitted, fit
from tiles.calc.cone_rates import COEFFICIENTS

COLUMNS = ("cone", "type", "e_kj_per_mol", "end_60_c")


def row(fitted: Fitted) -> tuple[str, str, str, str]:
    """One line of the file: E to 0.1 kJ/mol, the end point to 0.01 °C."""
    return fitted.cone.code, fitted.cone_type, f"{fitted.e_kj_per_mol:.1f}", f"{fitted.end_60_c:.2f}"


class Command(BaseCommand):
    help = "Fits the cones' rates of bending to their published end points and writes fixtures/heat_work.csv."

    def handle(self, **options: Any) -> None:
        rows = [row(fitted) for fitted in fit(published())]
        with COEFFICIENTS.open("w", newline="", encoding="utf-8") as lines:
            writer = csv.writer(lines, lineterminator="\n")
            writer.writerow(COLUMNS)
            writer.writerows(rows)
        self.stdout.write(f"{len(rows)} cones written. Now run: python manage.py reckon_logs")
