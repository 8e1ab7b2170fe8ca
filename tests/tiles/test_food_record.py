"""The food-contact record of a planned pot: which laboratory reports put it on record, and which do not."""

import pytest

from inventory import actions as shelf
from tests import make
from tests.tiles.food_world import CONE6, HIGH, TWO_PIECES, bought, codes, fired, lab, pot
from tests.tiles.test_laboratory import figures
from tiles.actions.laboratory import withdraw_report
from tiles.food import (
    PotLayer,
    record_of_combination,
    record_of_fill,
    record_of_glaze,
    record_of_pot,
    record_of_tile,
)


@pytest.fixture
def ware(studio):
    return {"body": make.body(), "cone": CONE6, "form": "mug"}


@pytest.fixture
def fill(studio):
    return bought()


def test_a_planned_pot_is_on_record_only_with_a_report_of_its_like(fill, ware):
    assert codes(pot(fill, **ware)) == ["labels_only", "label_quoted"]
    lab(fill, **ware)
    found = pot(fill, **ware)
    assert (found.verdict, codes(found)) == ("on_record", ["lab_within", "label_quoted"])
    assert "Sluice Analytics, " in found.lines[0].sentence


DIFFERENT = {
    "body": lambda ware: {**ware, "body": make.body()},
    "no body": lambda ware: {**ware, "body": None},
    "cone": lambda ware: {**ware, "cone": make.cone("5")},
    "form": lambda ware: {**ware, "form": "plate"},
    "no form": lambda ware: {**ware, "form": ""},
}


@pytest.mark.parametrize("change", DIFFERENT.values(), ids=DIFFERENT)
def test_a_near_report_is_shown_and_lifts_nothing(fill, ware, change):
    lab(fill, **ware)
    found = pot(fill, **change(ware))
    assert found.verdict == "not_known"
    assert len(found.near) == 1
    assert len(found.near[0].differs) == 1


def test_another_lot_is_near_and_an_unknown_lot_too(ware):
    glaze = make.glaze(origin="bought")
    tested, other, unknown = (bought(glaze_=glaze, lot=lot) for lot in ("B 7", "B 8", ""))
    lab(tested, **ware)
    assert pot(bought(glaze_=glaze, lot="b 7 "), **ware).verdict == "on_record"
    for fill in (other, unknown):
        assert (pot(fill, **ware).verdict, len(pot(fill, **ware).near)) == ("not_known", 1)
    by_name = record_of_pot([PotLayer(glaze=glaze)], **ware)
    assert (by_name.verdict, by_name.lines[0].code) == ("not_known", "no_bucket")


def test_a_layering_needs_a_report_of_its_own_and_in_its_order(ware):
    one, other = bought(), bought()
    lab(one, **ware)
    lab(other, **ware)
    assert "layering_untested" in codes(pot(one, other, **ware))
    lab(one, other, **ware)
    assert pot(one, other, **ware).verdict == "on_record"
    assert "layering_untested" in codes(pot(other, one, **ware))


def test_a_report_over_the_limit_keeps_the_pot_and_every_pot_with_the_glaze_away(fill, ware):
    lab(fill, **ware)
    lab(fill, rows=HIGH, **{**ware, "form": "jug"})
    assert pot(fill, **ware).verdict == "kept_away"  # over, in ware of this glaze alone
    assert record_of_glaze(fill.glaze).verdict == record_of_fill(fill).verdict == "kept_away"
    assert pot(fill, bought(), **ware).verdict == "kept_away"
    other_lot = bought(glaze_=fill.glaze, lot="C 1")
    assert pot(other_lot, **ware).verdict == "not_known"


def test_too_few_pieces_and_a_withdrawn_report_put_nothing_on_record(fill, ware):
    lab(fill, rows=TWO_PIECES, **ware)
    assert codes(pot(fill, **ware))[0] == "lab_boundary"
    within = lab(fill, **ware)
    assert pot(fill, **ware).verdict == "not_known"
    other = bought()
    made = lab(other, **ware)
    withdraw_report(by=make.manager(), obj=made, reason="another mug")
    assert pot(other, **ware).verdict == "not_known"
    assert within.withdrawn_at is None


def test_a_piece_that_the_mean_hides_puts_nothing_on_record(fill, ware):
    hidden = [*figures("Pb", 9, *[1] * 5), *figures("Cd", *["<0.01"] * 6)]
    lab(fill, rows=hidden, category="flatware", **ware)
    assert codes(pot(fill, **ware))[0] == "lab_boundary"


def test_a_standard_that_limits_lead_alone_puts_nothing_on_record(fill, ware):
    much_cadmium = [*figures("Pb", "<0.02"), *figures("Cd", 9)]
    lab(fill, rows=much_cadmium, standard="california-65", **ware)
    assert codes(pot(fill, **ware))[0] == "lab_incomplete"


@pytest.mark.parametrize("standard", ["iso-6486-2", "japan"])
def test_a_standard_whose_number_of_pieces_is_from_memory_puts_nothing_on_record(fill, ware, standard):
    bowl = {**ware, "form": "bowl"}
    lab(fill, standard=standard, category="small-hollowware", **bowl)
    assert codes(pot(fill, **bowl))[0] == "lab_unverified"


def test_a_studio_glaze_can_be_on_record_by_its_lot(ware):
    mixed = make.fill(lot="batch 3")
    assert codes(pot(mixed, **ware)) == ["no_report", "mixed_here"]
    lab(mixed, **ware)
    assert pot(mixed, **ware).verdict == "on_record"


def test_two_glazes_on_two_sides_are_not_what_a_report_of_the_two_speaks_of(ware):
    one, other = bought(), bought()
    lab(one, other, **ware)
    sides = [
        PotLayer(glaze=one.glaze, fill=one, area="inside"),
        PotLayer(glaze=other.glaze, fill=other, area="lip"),
    ]
    found = record_of_pot(sides, **ware)
    assert (found.verdict, len(found.near)) == ("not_known", 1)


def test_what_is_in_a_glaze_speaks_for_every_record_of_it(fill, ware):
    tile = fired(fill)
    combination = tile.zones.get().combination

    def records():
        by_name = record_of_pot([PotLayer(glaze=fill.glaze)], **ware)
        combined = record_of_combination(combination, make.manager())
        return [
            record_of_glaze(fill.glaze),
            record_of_fill(fill),
            record_of_tile(tile),
            combined,
            pot(fill, **ware),
            by_name,
        ]

    row = shelf.note_substance(
        by=make.manager(), glaze=fill.glaze, substance="Ba", read_in="maker", percent=3
    )
    for record in records():
        sentence = next(line.sentence for line in record.lines if line.code == "substance_not_known")
        assert "there is barium in it, 3\u00a0%, as read from its maker" in sentence
    shelf.take_back_substance(by=make.manager(), row=row, reason="another glaze")
    stain = shelf.note_substance(by=make.manager(), glaze=fill.glaze, substance="stain", read_in="recipe")
    assert all("stain" in codes(record) for record in records())
    shelf.take_back_substance(by=make.manager(), row=stain, reason="its analysis came")
    shelf.note_substance(by=make.manager(), glaze=fill.glaze, substance="Cd", read_in="analysis")
    assert {record.verdict for record in records()} == {"kept_away"}
