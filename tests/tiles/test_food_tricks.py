"""Ways by which ware could come onto the record though nothing like it was tested. None of them does it."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from inventory import actions as shelf
from studio.models import Change
from tests import make
from tests.reading import text_of
from tests.tiles.food_world import CONE6, bought, codes, fired, lab, pot
from tests.tiles.test_laboratory import figures
from tiles import actions as wall
from tiles.food import PotLayer, record_of_pot, record_of_tile
from tiles.models import Firing, LabReport, Tile

BELOW = figures("Cd", *["<0.01"] * 6)


@pytest.fixture
def ware(studio):
    return {"body": make.body(), "cone": CONE6, "form": "mug"}


@pytest.fixture
def fill(studio):
    return bought(days_ago=30)


def days(n):
    return timezone.now() - timedelta(days=n)


def test_another_lot_poured_on_is_not_the_lot_that_was_tested(fill, ware):
    lab(fill, **ware)
    assert pot(fill, **ware).verdict == "on_record"
    for lot, expected in (("B 7", "on_record"), ("C 1", "not_known")):
        other = bought(glaze_=fill.glaze, lot=lot, days_ago=20)
        shelf.transfer(by=make.manager(), source=other, target=fill, volume_ml=500)
        found = pot(fill, **ware)
        assert found.verdict == expected
    assert "a mixture of lots" in found.near[0].differs[0]
    # Nor is what it was poured on into, though that still goes by the name of the tested lot.
    onward = bought(glaze_=fill.glaze, days_ago=20)
    shelf.transfer(by=make.manager(), source=fill, target=onward, volume_ml=100)
    assert pot(onward, **ware).verdict == "not_known"


def test_what_was_there_before_the_pour_is_told_of_no_other_bucket(fill, ware):
    """The source was mixed only after it had been poured from."""
    lab(fill, **ware)
    source, other = (bought(glaze_=fill.glaze, lot=lot, days_ago=20) for lot in ("B 7", "C 1"))
    shelf.transfer(by=make.manager(), source=source, target=fill, volume_ml=500, at=days(10))
    shelf.transfer(by=make.manager(), source=other, target=source, volume_ml=500, at=days(5))
    assert (pot(fill, **ware).verdict, pot(source, **ware).verdict) == ("on_record", "not_known")


@pytest.mark.parametrize(
    ("lot", "expected"), [("batch 2", "not_known"), ("", "not_known"), ("Batch 1 ", "on_record")]
)
def test_a_batch_mixed_here_and_topped_up_with_another(ware, lot, expected):
    fill = make.fill(make.glaze(), lot="batch 1")
    lab(fill, **ware)
    shelf.top_up(by=make.manager(), fill=fill, volume_ml=Decimal(100), lot=lot)
    assert pot(fill, **ware).verdict == expected


@pytest.mark.parametrize(
    ("origin", "days_apart", "expected"),
    [("mixed", 0, "on_record"), ("mixed", 18, "not_known"), ("bought", 18, "on_record")],
)
def test_a_later_batch_of_the_same_number_poured_on_is_another(ware, origin, days_apart, expected):
    glaze, made_on = make.glaze(origin=origin), timezone.localdate() - timedelta(days=20)
    label = "food_safe" if origin == "bought" else ""
    fill = make.fill(glaze, lot="3", made_on=made_on, label=label)
    later = make.fill(glaze, lot="3", made_on=made_on + timedelta(days=days_apart), label=label)
    lab(fill, tested_on=timezone.localdate() - timedelta(days=10), **ware)
    shelf.transfer(by=make.manager(), source=later, target=fill, volume_ml=500)
    assert pot(fill, **ware).verdict == expected


def test_what_was_added_to_the_bucket_is_told_of_what_came_out_since(fill, ware):
    before, after = (fired({"fill": fill, "applied_at": days(n)}) for n in (20, 5))
    lab(fill, **ware)
    shelf.treat(by=make.manager(), fill=fill, kind="added", material="cobalt carbonate", at=days(10))
    found = pot(fill, **ware)
    assert (found.verdict, codes(found)[0]) == ("not_known", "added")
    assert "cobalt carbonate was added to its bucket" in found.lines[0].sentence
    assert ("added" in codes(record_of_tile(before)), "added" in codes(record_of_tile(after))) == (
        False,
        True,
    )
    stirred = bought()
    lab(stirred, **ware)
    shelf.treat(by=make.manager(), fill=stirred, kind="stirred", at=days(10))
    assert pot(stirred, **ware).verdict == "on_record"


def test_a_tile_that_was_tested_before_it_was_fired_is_only_near(fill):
    tile = make.tile(layers=[{"fill": fill, "applied_at": days(5)}])
    lab(tile=tile, tested_on=timezone.localdate() - timedelta(days=3), cone=CONE6)
    firing = make.firing(target="6")
    wall.load_tile(by=make.manager(), firing=firing, tile=tile)
    for state in ("firing", "cooling"):
        wall.move_firing(by=make.manager(), firing=Firing.objects.get(pk=firing.pk), state=state)
        assert "lab_within" not in codes(record_of_tile(Tile.objects.get(pk=tile.pk)))


def test_a_tile_that_is_in_the_kiln_again_is_off_the_record_at_once(fill):
    tile = fired(fill)
    lab(tile=tile)
    assert record_of_tile(tile).verdict == "on_record"
    again = make.firing(kind="refire", target="6")
    wall.load_tile(by=make.manager(), firing=again, tile=tile)
    assert record_of_tile(tile).verdict == "on_record"  # only loaded: it can still be taken out
    wall.move_firing(by=make.manager(), firing=again, state="firing")
    assert "refired" in codes(record_of_tile(tile))


def test_a_mug_is_not_judged_as_ware_of_which_more_is_allowed(fill, ware):
    """FDA: 0.5 mg/L of lead for cups and mugs, 2.0 for other small hollowware."""
    lab(fill, rows=[*figures("Pb", *[1.5] * 6), *BELOW], category="small-hollowware", **ware)
    assert (pot(fill, **ware).verdict, codes(pot(fill, **ware))[0]) == ("not_known", "lab_other_kind")
    bowl = {**ware, "form": "bowl"}
    lab(fill, rows=[*figures("Pb", *[1.5] * 6), *BELOW], category="small-hollowware", **bowl)
    assert pot(fill, **bowl).verdict == "on_record"


def test_a_tile_whose_report_names_no_form_is_judged_by_its_own(fill):
    tile = fired(fill)
    lab(tile=tile, rows=[*figures("Pb", *[1.5] * 6), *BELOW], category="small-hollowware")
    assert record_of_tile(tile).verdict == "on_record"
    wall.change_tile(by=make.manager(), obj=tile, values={"form": "mug"})
    assert codes(record_of_tile(tile))[0] == "lab_other_kind"


def test_whoever_is_over_elsewhere_is_told_so(fill, ware):
    """3 mg/L of lead in a mug: 4.0 in the European Union, 0.5 in the United States and Canada."""
    lab(fill, rows=[*figures("Pb", 3), *figures("Cd", "<0.01")], standard="eu-84-500", **ware)
    said = pot(fill, **ware).lines[0]
    assert said.code == "lab_within"
    for words in ("United States (FDA", "Canada", "California"):
        assert words in said.sentence
    little = bought()
    lab(little, rows=[*figures("Pb", *["<0.02"] * 6), *BELOW], **ware)
    assert "figures are over" not in pot(little, **ware).lines[0].sentence


@pytest.mark.parametrize(
    ("lead", "cadmium", "expected"),
    [(0.39, 0.1, "on_record"), (0.4, 0.1, "not_known"), (0.1, 0.46, "not_known"), (0.1, 0.44, "on_record")],
)
def test_what_two_laboratories_may_differ_by_is_near_the_limit(fill, ware, lead, cadmium, expected):
    """ASTM C738-94(2020): reproducibility between laboratories 0.10 mg/L of lead, 0.013 of cadmium."""
    lab(fill, rows=[*figures("Pb", *[lead] * 6), *figures("Cd", *[cadmium] * 6)], **ware)
    assert pot(fill, **ware).verdict == expected


def sides(one, other, *areas):
    """A pot of two glazes, or what a laboratory tested."""
    return [
        {"glaze": fill.glaze, "lot": fill.lot, "area": area}
        for fill, area in zip((one, one, other), areas, strict=True)
    ]


def planned(one, other, *areas):
    rows = sides(one, other, *areas)
    return [
        PotLayer(glaze=row["glaze"], fill=one if row["glaze"] == one.glaze else other, area=row["area"])
        for row in rows
    ]


def test_a_pot_of_two_glazes_is_on_record_where_each_lay_as_it_was_tested(fill, ware):
    other = bought()
    inside = ("inside", "lip", "outside")
    lab(layers=sides(fill, other, *inside), **ware)
    found = record_of_pot(planned(fill, other, *inside), **ware)
    assert (found.verdict, codes(found)[0]) == ("on_record", "lab_within")
    # Those beside one another have no order: the same pot, glazed from the outside first.
    assert record_of_pot(planned(fill, other, *inside)[::-1], **ware).verdict == "on_record"
    # The other glaze inside, or the one over the other, is another pot.
    for areas, glazes in (
        (("outside", "outside", "inside"), (fill, other)),
        (("inside", "lip", "whole"), (fill, other)),
        (inside, (other, fill)),
    ):
        found = record_of_pot(planned(*glazes, *areas), **ware)
        assert (found.verdict, len(found.near)) == ("not_known", 1)


def test_a_report_that_does_not_say_where_lifts_no_pot_of_several_layers(fill, ware):
    other = bought()
    nowhere = [{"glaze": each.glaze, "lot": each.lot} for each in (fill, other)]
    lab(layers=nowhere, **ware)
    found = pot(fill, other, **ware)
    assert (found.verdict, len(found.near)) == ("not_known", 1)
    assert "does not say where" in found.near[0].differs[0]
    lab(layers=nowhere[:1], **ware)  # of one layer alone there is no doubt
    assert pot(fill, **ware).verdict == "on_record"


def test_where_is_asked_and_kept_by_the_form_the_page_and_the_api(client, fill, ware):
    client.force_login(make.manager())
    sent = {
        "standard": "us-fda",
        "category": "cups-and-mugs",
        "laboratory": "Sluice",
        "tested_on": "2026-03-02",
        "glaze_1": fill.glaze.pk,
        "lot_1": "B 7",
        "area_1": "inside",
        "metal_1": "Pb",
        "figures_1": "0.1",
    }
    page = client.post("/lab-reports/new/", sent, follow=True)
    report = LabReport.objects.get()
    assert [layer.area for layer in report.layers.all()] == ["inside"]
    assert "inside" in text_of(page)
    said = client.get(f"/api/v1/lab-reports/{report.pk}/").json()
    assert said["layers"][0]["area"] == "inside"
    assert 'value="inside" selected' in client.get(f"{report.get_absolute_url()}edit/").content.decode()
    history = Change.objects.filter(object_id=report.pk).latest("at")
    assert f"{fill.glaze.name}, B 7, inside" in history.after["layers"]


@pytest.mark.parametrize(
    ("areas", "expected"),
    [
        (("outside",), "kept_away"),  # bare where food lies
        (("lip", "outside"), "kept_away"),
        (("inside",), "not_known"),  # nothing is noted of its lip
        (("inside", "lip"), "on_record"),  # a bare outside is no food side
    ],
)
def test_of_a_hollow_test_piece_food_lies_inside_and_on_the_lip(fill, areas, expected):
    tile = fired(*({"fill": fill, "area": area} for area in areas))
    lab(tile=tile)
    assert record_of_tile(tile).verdict == expected


def test_a_batch_that_was_mixed_after_the_test_is_not_the_one_that_was_tested(ware):
    """Batches are counted anew each year; a bought lot may be opened long after it was tested."""
    today = timezone.localdate()
    for origin, made_days_ago, expected in (
        ("mixed", 20, "on_record"),
        ("mixed", 2, "not_known"),
        ("bought", 2, "on_record"),
    ):
        label = "food_safe" if origin == "bought" else ""
        glaze, made_on = make.glaze(origin=origin), today - timedelta(days=made_days_ago)
        fill = make.fill(glaze, lot="3", made_on=made_on, label=label)
        lab(fill, tested_on=today - timedelta(days=10), **ware)
        assert pot(fill, **ware).verdict == expected


@pytest.mark.parametrize(("days_ago", "expected"), [(20, "on_record"), (2, "not_known")])
def test_a_day_of_mixing_that_nobody_noted_is_no_way_onto_the_record(ware, days_ago, expected):
    fill = make.fill(make.glaze(), lot="3", days_ago=days_ago)
    lab(fill, tested_on=timezone.localdate() - timedelta(days=10), **ware)
    assert pot(fill, **ware).verdict == expected


def test_a_report_on_a_tile_that_was_glazed_elsewhere_than_it_says_is_only_near(fill):
    tile = fired({"fill": fill, "area": "inside"}, {"fill": fill, "area": "lip"})
    report = lab(tile=tile)
    assert record_of_tile(tile).verdict == "on_record"
    report.layers.filter(area="lip").update(area="outside")
    found = record_of_tile(tile)
    assert (found.verdict, "lay elsewhere" in found.near[0].differs[0]) == ("not_known", True)
    report.layers.update(area="")  # what it leaves out is the tile's own
    assert record_of_tile(tile).verdict == "on_record"


def test_lead_that_was_stirred_into_a_glaze_is_in_the_kiln_too(fill, ware):
    lab(fill, **ware)
    red, kiln = make.glaze("Old Red"), make.kiln("Drum")
    noted = shelf.note_substance(by=make.manager(), glaze=red, substance="Pb", read_in="maker")
    make.fire(make.firing(kiln), make.tile(layers=[{"glaze": make.glaze(), "stirred_in": red}]))
    assert codes(pot(fill, kiln=kiln, **ware))[0] == "kiln"
    shelf.take_back_substance(by=make.manager(), row=noted, reason="another glaze")
    assert pot(fill, kiln=kiln, **ware).verdict == "on_record"
