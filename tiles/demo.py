"""The demo's wall: bodies, kilns, firings, tiles with layers and outcomes, and drawings in place of photos."""

from itertools import groupby
from typing import Any

from django.core.files.base import ContentFile

from inventory.calc.cones import Cone
from inventory.demo import cones
from studio.demo import DemoHouse, numbers, rows, said
from tiles import actions
from tiles.calc.zones import combination_key
from tiles.demo_drawing import drawings, look_of
from tiles.demo_logs import load_logs
from tiles.demo_many import fill_wall
from tiles.demo_schedules import load_schedules
from tiles.models import Combination, Firing, Tile

Rows = list[dict[str, str]]


def load_wall(house: DemoHouse) -> None:
    _clay(house)
    load_schedules(house)
    tiles, layers = list(rows("tiles")), list(rows("layers"))
    _tiles(house, tiles)
    for row in rows("firings"):
        _firing(house, row, tiles, layers)
    _layers(house, [row for row in layers if not row["before"]])
    _by_hand(house, tiles)
    _outcomes(house)
    load_logs(house)
    house.afterwards.append(_remarks)
    house.afterwards.append(_photos)
    if house.tiles:
        house.afterwards.append(lambda house: fill_wall(house, house.tiles or 0))


def _clay(house: DemoHouse) -> None:
    for row in rows("bodies"):
        body = actions.create_body(
            by=house.manager,
            name=row["name"],
            **cones(row, "bisque_cone", "cone_low", "cone_high"),
            **numbers(row, "absorption_percent", "expansion"),
            **said(row, "expansion_range_c", "colour", "remark"),
        )
        house.keep("body", row["key"], body)
    for row in rows("kilns"):
        whole = said(row, "duty_percent", "elements_last", "thermocouple_last")
        counts: dict[str, Any] = {name: int(number) for name, number in whole.items()}
        kiln = actions.create_kiln(
            by=house.manager,
            name=row["name"],
            positions=row["positions"].split("|"),
            lustre=row["lustre"] == "yes",
            **cones(row, "highest_cone"),
            **said(row, "thermocouple", "cautions"),
            **numbers(row, "power_kw"),
            **counts,
        )
        house.keep("kiln", row["key"], kiln)


def _tiles(house: DemoHouse, tiles: Rows) -> None:
    """Tiles made together get their numbers in one run; a number of the studio's own is written as it is."""
    made_together = ("body", "form", "maker", "made_days_ago")
    for _key, group in groupby(tiles, key=lambda row: [row[name] for name in made_together]):
        run = list(group)
        common: dict[str, Any] = {
            "by": house.person(run[0]["maker"]),
            "body": house.get("body", run[0]["body"]),
            "form": run[0]["form"],
            "made_on": house.day(run[0]["made_days_ago"]),
        }
        if run[0]["number"].isdigit():
            made = actions.reserve_numbers(count=len(run), **common)
        else:
            made = [actions.add_tile(number=row["number"], **common) for row in run]
        for row, tile in zip(run, made, strict=True):
            house.keep("tile", row["number"], tile)


def _firing(house: DemoHouse, row: dict[str, str], tiles: Rows, layers: Rows) -> None:
    """Plan, put the layers on that come before it, load, and fire as far as its state says."""
    firing = actions.plan_firing(
        by=house.manager,
        kiln=house.get("kiln", row["kiln"]),
        kind=row["kind"],
        target_cone=Cone.parse(row["target_cone"]),
        atmosphere=row["atmosphere"],
        planned_on=house.day(row["planned_days_ago"]),
        plan_from=house.get("schedule", row["plan"]),
        **said(row, "schedule", "remark"),
    )
    house.keep("firing", row["key"], firing)
    _layers(house, [layer for layer in layers if layer["before"] == row["key"]])
    column = row["kind"] if row["kind"] in (Firing.Kind.BISQUE, Firing.Kind.REFIRE) else "firing"
    for tile in tiles:
        if tile[column] == row["key"]:
            position = "" if column == Firing.Kind.BISQUE else tile["position"]
            actions.load_tile(
                by=house.manager, firing=firing, tile=house.get("tile", tile["number"]), position=position
            )
    _pieces(house, firing, row["key"])
    if row["state"] == Firing.State.LOADING:
        actions.move_firing(by=house.manager, firing=firing, state=row["state"])
        return
    started, ended = house.moment(row["started_days_ago"]), house.moment(row["unloaded_days_ago"])
    actions.move_firing(by=house.manager, firing=firing, state="firing", at=started)
    if row["state"] == Firing.State.UNLOADED:
        actions.move_firing(by=house.manager, firing=firing, state="cooling", at=started)
        _witness(house, firing, row["key"])
    actions.move_firing(by=house.manager, firing=firing, state=row["state"], at=ended)


def _pieces(house: DemoHouse, firing: Firing, key: str) -> None:
    for row in rows("pieces"):
        if row["firing"] == key:
            actions.load_piece(
                by=house.person(row["owner"]),
                firing=firing,
                count=int(row["count"]),
                body=house.get("body", row["body"]),
                **said(row, "words", "position"),
            )


def _witness(house: DemoHouse, firing: Firing, key: str) -> None:
    seen = [
        {**said(row, "position", "cone_type"), **cones(row, "cone"), "bend_degrees": int(row["bend_degrees"])}
        for row in rows("witness")
        if row["firing"] == key
    ]
    if seen:
        actions.set_witness_cones(by=house.manager, firing=firing, cones=seen)


def _layers(house: DemoHouse, layers: Rows) -> None:
    for row in layers:
        tile: Tile = house.get("tile", row["tile"])
        actions.add_layer(
            by=tile.maker,
            tile=tile,
            fill=house.get("fill", row["fill"]),
            glaze=house.get("glaze", row["glaze"]),
            coats=int(row["coats"]),
            applied_at=house.moment(row["days_ago"]),
            **numbers(row, "dip_seconds", "thickness_mm"),
            **said(row, "method", "area", "ground", "tool"),
        )


def _by_hand(house: DemoHouse, tiles: Rows) -> None:
    for row in tiles:
        tile: Tile = house.get("tile", row["number"])
        values: dict[str, Any] = said(row, "visibility", "state", "remark")
        if row["place"]:
            values["place"] = house.get("place", row["place"])
        if values:
            actions.change_tile(by=tile.maker, obj=tile, values=values)


def _outcomes(house: DemoHouse) -> None:
    for row in rows("outcomes"):
        faults = [fault.partition(":") for fault in row["faults"].split("|") if fault]
        actions.record_outcome(
            by=house.person(row["by"]),
            tile=house.get("tile", row["tile"]),
            firing=house.get("firing", row["firing"]),
            looked_on=house.day(row["days_ago"]),
            faults=[{"kind": kind, "where": where} for kind, _sep, where in faults],
            **said(row, "zone", "surface", "opacity", "colour", "verdict", "damage", "remark"),
            **numbers(row, "movement_mm"),
        )


def _remarks(house: DemoHouse) -> None:
    for row in rows("combinations"):
        key = combination_key(house.get("glaze", name).pk.hex for name in row["glazes"].split("|"))
        actions.change_combination(
            by=house.manager, obj=Combination.objects.get(key=key), values={"remark": row["remark"]}
        )


def _photos(house: DemoHouse) -> None:
    """A drawing of every tile that has been fired, in place of a photo."""
    fired = [
        row for row in rows("tiles") if row["firing"] or house.get("tile", row["number"]).layers.exists()
    ]
    keys = {glaze: key for key, glaze in house.records["glaze"].items()}
    drawn = []
    for row in fired:
        tile = Tile.objects.get(pk=house.get("tile", row["number"]).pk)
        if tile.state in (Tile.State.FIRED, Tile.State.RECORDED):
            drawn.append((tile, look_of(tile, keys, row["body"])))
    for (tile, _look), picture in zip(drawn, drawings(look for _tile, look in drawn), strict=True):
        actions.add_photo(
            by=tile.maker,
            tile=tile,
            file=ContentFile(picture, name=f"drawing-{tile.number}.jpg"),
            stage="fired",
            caption=f"Drawing of tile {tile.number}, not a photo",
        )
