"""The food-contact record of tiles, glazes and combinations: flags, what is in them, what was seen."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory import actions as shelf
from studio.roles import Role
from tests import make
from tests.tiles.food_world import CONE6, HIGH, bought, codes, fired, lab, pot
from tiles import actions as wall
from tiles.actions.marks import mark_touched
from tiles.food import (
    PotLayer,
    record_of_combination,
    record_of_fill,
    record_of_glaze,
    record_of_pot,
    record_of_tile,
)
from tiles.models import Tile


@pytest.fixture
def ware(studio):
    return {"body": make.body(), "cone": CONE6, "form": "mug"}


@pytest.fixture
def fill(studio):
    return bought()


def test_only_the_very_tile_that_was_tested_is_on_record(fill, ware):
    tile, twin = fired(fill, body=ware["body"]), fired(fill, body=ware["body"])
    lab(fill, body=ware["body"], cone=CONE6, form="mug")
    assert record_of_tile(tile).verdict == "not_known"  # a pot's result is not inherited
    assert len(record_of_tile(tile).near) == 1
    lab(tile=tile)
    assert record_of_tile(tile).verdict == "on_record"
    assert record_of_tile(twin).verdict == "not_known"
    combination = tile.zones.get().combination
    assert record_of_combination(combination, make.manager()).verdict == "not_known"
    assert "never_by_itself" in codes(record_of_combination(combination, make.manager()))


def test_a_tile_that_changed_since_its_test_is_only_near(fill):
    tile = fired(fill)
    lab(tile=tile)
    lab(tile=tile, tested_on=timezone.localdate() - timedelta(days=1))
    found = record_of_tile(tile)
    assert (found.verdict, len(found.near)) == ("on_record", 1)
    make.fire(make.firing(kind="refire"), tile)
    found = record_of_tile(tile)
    assert "refired" in codes(found)
    # Tested on the very day of the firing: nobody knows which came first.
    assert ("lab_within" in codes(found), len(found.near)) == (False, 2)
    assert "on that day or since" in found.near[0].differs[0]


def test_a_tile_that_was_not_fired_or_fired_otherwise_is_not_known(fill):
    assert "not_fired" in codes(record_of_tile(make.tile(layers=[{"fill": fill}])))
    assert "cone_only_planned" in codes(record_of_tile(make.fired_tile(layers=[{"fill": fill}])))
    assert "outside_cone" in codes(record_of_tile(fired(fill, target="4")))
    assert "no_bucket" in codes(record_of_tile(fired({"glaze": fill.glaze})))


@pytest.mark.parametrize("caution", ["lead_or_cadmium", "lustre", "salt"])
def test_a_kiln_that_others_should_know_of_leaves_every_record_unknown(fill, ware, caution):
    kiln = make.kiln("Old kiln", **{caution: True})
    lab(fill, **ware)
    assert codes(pot(fill, kiln=kiln, **ware))[0] == "kiln"
    tile = make.tile(layers=[{"fill": fill}])
    make.fire(make.firing(kiln, kind="bisque", target="04"), tile)
    line = next(line for line in record_of_tile(tile).lines if line.code == "kiln")
    assert "Old kiln" in line.sentence
    # Whoever does not say which kiln may mean that one.
    unsaid = pot(fill, **ware)
    assert (unsaid.verdict, codes(unsaid)[0]) == ("not_known", "kiln_not_named")
    assert "Old kiln" in unsaid.lines[0].sentence
    assert pot(fill, kiln=make.kiln("Plain"), **ware).verdict == "on_record"


def test_a_kilns_own_firings_tell_what_nobody_noted_of_it(fill, ware):
    kiln = make.kiln("Drum")
    lab(fill, **ware)
    lead = make.glaze("Old Red")
    noted = shelf.note_substance(by=make.manager(), glaze=lead, substance="Pb", read_in="maker")
    leaded = make.tile(layers=[])
    make.fire(make.firing(kiln, kind="bisque", target="04"), leaded)
    wall.add_layer(by=make.manager(), tile=leaded, glaze=lead)
    wall.load_tile(by=make.manager(), firing=make.firing(kiln, kind="overglaze", target="018"), tile=leaded)
    assert pot(fill, kiln=kiln, **ware).verdict == "on_record"  # bisqued before the glaze; only loaded since
    wall.move_firing(by=make.manager(), firing=kiln.firings.get(kind="overglaze"), state="firing")
    told = [line.sentence for line in pot(fill, kiln=kiln, **ware).lines if line.code == "kiln"]
    assert [
        words for words in ("holds lead or cadmium", "overglaze or lustre firing") if words in " ".join(told)
    ] == [
        "holds lead or cadmium",
        "overglaze or lustre firing",
    ]
    assert all("Drum" in sentence for sentence in told)
    assert pot(fill, kiln=kiln, **ware).verdict == "not_known"
    shelf.take_back_substance(by=make.manager(), row=noted, reason="another glaze")
    assert codes(pot(fill, kiln=kiln, **ware)).count("kiln") == 1


@pytest.mark.parametrize("kind", ["contaminated", "wrong_label", "not_for_food"])
def test_a_flag_at_the_time_of_use_or_since_keeps_it_away(kind, ware):
    fill, member = bought(days_ago=30), make.person()
    before = fired({"fill": fill, "applied_at": timezone.now() - timedelta(days=20)})
    flag = shelf.raise_flag(by=member, fill=fill, kind=kind, since=timezone.now() - timedelta(days=10))
    after = fired({"fill": fill, "applied_at": timezone.now() - timedelta(days=5)})
    for record in (
        record_of_tile(before),
        record_of_tile(after),
        record_of_fill(fill),
        record_of_glaze(fill.glaze),
    ):
        assert record.verdict == "kept_away"
    assert (
        pot(fill, **ware).verdict
        == record_of_pot([PotLayer(glaze=fill.glaze)], **ware).verdict
        == "kept_away"
    )
    shelf.clear_flag(
        by=make.manager(),
        flag=flag,
        outcome="put_right",
        note="sieved",
        put_right_at=timezone.now() - timedelta(days=1),
    )
    # Put right, it no longer speaks of what was taken before it began, nor of what is taken now.
    assert record_of_tile(after).verdict == "kept_away"
    for record in (
        record_of_tile(before),
        record_of_fill(fill),
        record_of_glaze(fill.glaze),
        pot(fill, **ware),
    ):
        assert record.verdict == "not_known"


def test_a_flag_goes_with_what_was_poured_on_until_it_was_a_mistake(fill):
    into = make.fill(fill.glaze, label="food_safe")
    shelf.transfer(by=make.manager(), source=fill, target=into, volume_ml=100)
    flag = shelf.raise_flag(by=make.person(), fill=fill, kind="contaminated")
    tile = fired(into)
    assert record_of_tile(tile).verdict == "kept_away"
    shelf.clear_flag(by=make.manager(), flag=flag, outcome="mistaken", note="that was another bucket")
    assert record_of_tile(tile).verdict == "not_known"


def test_what_does_not_speak_of_food_keeps_nothing_away(fill):
    shelf.raise_flag(by=make.person(), fill=fill, kind="settled_hard")
    assert record_of_fill(fill).verdict == "not_known"


def test_a_tile_that_was_set_aside_for_a_flag_is_kept_away(fill):
    tile = fired(fill)
    flag = shelf.raise_flag(by=make.person(), fill=bought(glaze_=fill.glaze), kind="contaminated")
    assert record_of_tile(tile).verdict == "not_known"
    other = shelf.raise_flag(by=make.person(), fill=fill, kind="contaminated")
    mark_touched(by=make.manager(), flag=other)
    assert "marked" in codes(record_of_tile(tile))
    assert flag.is_open


def test_what_was_stirred_in_counts_with_what_is_in_it(fill):
    lead = make.glaze("Old Red")
    shelf.note_substance(by=make.manager(), glaze=lead, substance="Pb", read_in="maker")
    found = record_of_tile(fired({"fill": fill, "stirred_in": lead}))
    assert found.verdict == "kept_away"
    assert "stirred_together" in codes(found)


def test_labels_against_food(ware):
    glaze = make.glaze(origin="bought")
    against, other = bought("not_for_food", glaze_=glaze), bought(glaze_=glaze, lot="C 1")
    assert record_of_fill(against).verdict == record_of_glaze(glaze).verdict == "kept_away"
    assert record_of_pot([PotLayer(glaze=glaze)], **ware).verdict == "kept_away"
    assert record_of_fill(other).verdict == "not_known"  # its own container was read
    shelf.withdraw_label(by=make.manager(), fill=against, reason="misread")
    assert codes(record_of_glaze(glaze))[0] == "label_not_read"


def test_a_layer_without_a_bucket_is_not_better_than_the_containers_of_its_glaze(fill):
    against = bought("not_for_food")
    unknown, stirred = fired({"glaze": against.glaze}), fired({"fill": fill, "stirred_in": against.glaze})
    assert codes(record_of_tile(unknown))[0] == codes(record_of_tile(stirred))[0] == "label_not_for_food"


def test_a_tested_tile_of_a_studio_glaze_without_a_bucket_is_not_on_record(studio):
    tile = fired({"glaze": make.glaze()})
    lab(tile=tile)
    assert codes(record_of_tile(tile))[0] == "mixed_no_bucket"


def test_a_bisque_after_the_glaze_is_one_more_firing(fill):
    tile = fired(fill)
    lab(tile=tile)
    assert record_of_tile(tile).verdict == "on_record"
    make.fire(make.firing(kind="bisque", target="04"), tile)
    assert "refired" in codes(record_of_tile(tile))


@pytest.mark.parametrize(
    ("label", "code"),
    [("", "label_not_read"), ("none", "label_silent"), ("food_safe", "label_quoted")],
)
def test_a_label_is_quoted_with_its_condition(studio, label, code):
    fill = bought(label, label_condition="cone 6, alone" if label == "food_safe" else "")
    line = next(line for line in record_of_fill(fill).lines if line.code == code)
    assert ("(cone 6, alone)" in line.sentence) is (label == "food_safe")


def test_wax_burns_out_and_says_nothing(fill):
    wax = make.fill(make.glaze(kind="wax", low=None, high=None))
    shelf.raise_flag(by=make.person(), fill=wax, kind="not_for_food")
    tile = make.tile(layers=[{"fill": wax}, {"fill": fill}])
    assert record_of_tile(tile).verdict == "not_known"
    assert Tile.objects.with_standing().get(pk=tile.pk).is_kept_from_food is False


@pytest.mark.parametrize("seen", [{"faults": [{"kind": "crazing", "where": "rim"}]}, {"surface": "dry"}])
def test_what_was_seen_speaks_for_the_tile_and_its_combination_and_of_a_pot_only_as_a_doubt(fill, ware, seen):
    tile = fired(fill, body=ware["body"])
    wall.record_outcome(by=tile.maker, tile=tile, surface="satin")
    assert record_of_tile(tile).verdict == "not_known"
    wall.record_outcome(by=tile.maker, tile=tile, **seen)
    assert record_of_tile(tile).verdict == "kept_away"
    combination = tile.zones.get().combination
    assert record_of_combination(combination, make.manager()).verdict == "kept_away"
    lab(fill, **ware)
    expected = "fault_on_tiles" if "faults" in seen else "dry_on_tiles"
    assert (pot(fill, **ware).verdict, codes(pot(fill, **ware))[0]) == ("not_known", expected)


def test_nobody_reads_of_anothers_private_tile(fill, ware):
    owner, member = make.person(), make.person()
    hidden = fired(fill, by=owner, body=ware["body"], visibility="mine")
    shown = fired(fill, by=owner, body=ware["body"])
    wall.record_outcome(by=owner, tile=hidden, faults=[{"kind": "crazing"}])
    combination = shown.zones.get().combination
    for person, expected in (
        (member, "not_known"),
        (owner, "kept_away"),
        (make.person(Role.TECHNICIAN), "kept_away"),
    ):
        assert record_of_combination(combination, person).verdict == expected
        told = "fault_on_tiles" in codes(pot(fill, person=person, **ware))
        assert told is (expected == "kept_away")
    assert "fault_on_tiles" not in codes(pot(fill, **ware))


def test_of_anothers_private_tile_only_what_was_over_is_told(fill, ware):
    hidden = fired(fill, by=make.person(), visibility="mine")
    lab(tile=hidden)
    assert (record_of_glaze(fill.glaze).near, pot(fill, **ware).near) == ((), ())
    assert len(record_of_tile(hidden).near) == 0
    assert record_of_tile(hidden).verdict == "on_record"
    lab(tile=hidden, rows=HIGH)
    found = record_of_glaze(fill.glaze)
    assert (found.verdict, found.near) == ("kept_away", ())
    assert hidden.number not in " ".join(line.sentence for line in found.lines)


def test_a_failed_screen_takes_away_and_a_passed_one_gives_nothing(fill):
    from tiles.models import HomeTrial

    tile = fired(fill)
    trial = HomeTrial(
        tile=tile, kind="acid", done="vinegar, three days", by=tile.maker, result="not_yet_failed"
    )
    trial.save()
    assert record_of_tile(tile).verdict == "not_known"
    HomeTrial.objects.update(result="failed")
    assert record_of_tile(tile).verdict == "kept_away"
    HomeTrial.objects.update(taken_back_at=timezone.now())
    assert record_of_tile(tile).verdict == "not_known"


def test_bare_clay_and_an_underglaze_without_a_cover(fill, ware):
    underglaze = bought(glaze_=make.glaze(origin="bought", kind="underglaze"))
    assert codes(record_of_fill(underglaze))[0] == "wants_cover"
    assert "uncovered" in codes(pot(underglaze, **ware))
    assert "uncovered" not in codes(pot(underglaze, fill, **ware))
    inside = [PotLayer(glaze=fill.glaze, fill=fill, area="outside")]
    assert "bare" in codes(record_of_pot(inside, **ware))
    assert "bare" in codes(record_of_tile(fired({"fill": fill, "area": "upper"})))


def test_what_stands_beside_it_always_and_how_ornamental_ware_is_marked(fill):
    """The rule for ornamental ware: 21 CFR 109.16."""
    beside = " ".join(sentence for sentence, _source in record_of_fill(fill).beside)
    for words in (
        "differ from country to country",
        "of the fired piece",
        "not yet failed",
        "asks a laboratory",
    ):
        assert words in beside
    assert "Not for Food Use" not in beside
    shelf.raise_flag(by=make.person(), fill=fill, kind="not_for_food")
    sentence, source = record_of_fill(fill).beside[-1]
    assert source == "21 CFR 109.16"
    for words in ("Not for Food Use", "3.2 mm", "1.6 mm", "hole bored", "local law decides"):
        assert words in sentence


def test_the_questions_to_the_database_do_not_grow(ware, django_assert_max_num_queries):
    fills = [bought() for _n in range(6)]
    for fill in fills:
        shelf.note_substance(by=make.manager(), glaze=fill.glaze, substance="Co", read_in="maker")
        shelf.raise_flag(by=make.person(), fill=fill, kind="contaminated")
    for _n in range(4):
        lab(*fills, **ware)
    tile = fired(*fills)
    with django_assert_max_num_queries(13):
        pot(*fills, **ware)
    with django_assert_max_num_queries(16):
        record_of_tile(tile)
