"""The demo's laboratory report and trials at home: invented figures, and drawings in place of photos."""

from dataclasses import replace
from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage import storages

from studio import photos
from studio.demo import DemoHouse, rows, said
from tiles.actions.home_trials import begin_trial, end_trial
from tiles.actions.laboratory import create_report
from tiles.calc.leach_values import parse_amount
from tiles.demo_drawing import look_of
from tiles.drawn import draw
from tiles.models import Tile


def load_laboratory(house: DemoHouse) -> None:
    """After the drawings: the trials show them."""
    house.afterwards += [_reports, _home_trials]


def _reports(house: DemoHouse) -> None:
    for row in rows("lab_reports"):
        figures = [line for line in rows("lab_figures") if line["report"] == row["key"]]
        text = ("Laboratory report", row["laboratory"], row["report_number"], "Invented for the demo studio.")
        create_report(
            by=house.person(row["by"]),
            tile=Tile.objects.get(pk=house.get("tile", row["tile"]).pk),
            tested_on=house.day(row["days_ago"]),
            figures=[figure for line in figures for figure in _pieces(line)],
            file=ContentFile(_pdf(*text), name=f"{row['report_number']}.pdf"),
            **said(row, *("laboratory", "report_number", "standard", "category", "method", "form", "remark")),
        )


def _pieces(line: dict[str, str]) -> list[dict[str, Any]]:
    read = enumerate(map(parse_amount, line["figures"].split()), start=1)
    return [
        {"piece": n, **said(line, "metal", "unit"), "amount": amount, "is_below": is_below}
        for n, (amount, is_below) in read
    ]


def _home_trials(house: DemoHouse) -> None:
    keys = {glaze: key for key, glaze in house.records["glaze"].items()}
    bodies = {row["number"]: row["body"] for row in rows("tiles")}
    for row in rows("home_trials"):
        tile = Tile.objects.get(pk=house.get("tile", row["tile"]).pk)
        by = house.person(row["by"])
        trial = begin_trial(
            by=by,
            tile=tile,
            begun_on=house.day(row["begun_days_ago"]),
            before=[_as_it_was(tile)],
            **said(row, "kind", "done"),
        )
        if row["result"]:
            look = replace(look_of(tile, keys, bodies[row["tile"]]), surface=row["after_surface"])
            after = ContentFile(draw(look), name=f"drawing-{tile.number}-after.jpg")
            ended_on = house.day(row["ended_days_ago"])
            end_trial(by=by, trial=trial, ended_on=ended_on, after=[after], **said(row, "result", "seen"))


def _as_it_was(tile: Tile) -> ContentFile:
    """The drawing that hangs on the tile."""
    photo = tile.photos.get()
    with photos.open_original(storages["photos"], photo.key, photo.kind) as file:
        return ContentFile(file.read(), name=f"drawing-{tile.number}-before.jpg")


def _pdf(*lines: str) -> bytes:
    """One page of text, as small as a PDF may be (ISO 32000-1, 7.5)."""
    text = " ".join(f"({line}) Tj 0 -24 Td" for line in lines)
    stream = f"BT /F1 16 Tf 72 760 Td {text} ET"
    objects = [
        "<< /Type /Catalog /Pages 2 0 R >>",
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R "
        "/Resources << /Font << /F1 5 0 R >> >> >>",
        f"<< /Length {len(stream)} >>\nstream\n{stream}\nendstream",
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
    ]
    body, starts = "%PDF-1.4\n", []
    for n, written in enumerate(objects, start=1):
        starts.append(len(body))
        body += f"{n} 0 obj\n{written}\nendobj\n"
    table = "".join(f"{start:010} 00000 n \n" for start in starts)
    end = f"trailer << /Size {len(objects) + 1} /Root 1 0 R >>\nstartxref\n{len(body)}\n%%EOF\n"
    return f"{body}xref\n0 {len(objects) + 1}\n0000000000 65535 f \n{table}{end}".encode("ascii")
