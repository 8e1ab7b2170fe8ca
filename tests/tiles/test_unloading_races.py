"""Two members at one kiln at the same moment: neither look is lost, and no photo goes to two tiles."""

import uuid
from threading import Barrier, Thread

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection

from studio.errors import Refused
from tests import make, photo_files
from tiles.actions import step_back
from tiles.actions.loose import add_loose_photo, pick_photo
from tiles.actions.unloading import SomebodyLooked, keep_draft, keep_look
from tiles.models import Firing, LookDraft, LoosePhoto, Photo

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*acts):
    """What each act answers, or the Refused that it raises; anything else fails the test."""
    found, failed, start = [None] * len(acts), [], Barrier(len(acts))

    def run(n, act):
        try:
            start.wait()
            found[n] = act()
        except Refused as refused:
            found[n] = refused
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    threads = [Thread(target=run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    return found


@pytest.fixture
def two():
    make.studio()
    return make.person(name="Mina"), make.person(name="Ilva")


def test_of_two_looks_at_one_moment_the_second_is_told_and_may_keep_both(two):
    tile = make.tile(layers=[{"glaze": make.glaze()}])
    firing = make.fire(make.firing(), tile)

    def keep(by, surface):
        return lambda: keep_look(by=by, firing=firing, tile=tile, surface=surface)

    answers = at_once(keep(two[0], "satin"), keep(two[1], "matte"))
    (told,) = [n for n, answer in enumerate(answers) if isinstance(answer, SomebodyLooked)]
    kept = tile.outcomes.get()
    assert answers[told].look == kept == answers[1 - told]
    keep_look(by=two[told], firing=firing, tile=tile, surface="dry", knows=str(kept.pk))
    assert {look.by for look in tile.outcomes.all()} == set(two)


def test_different_tiles_do_not_wait_for_an_answer(two):
    tiles = [make.tile(layers=[{"glaze": make.glaze()}]) for _n in two]
    firing = make.fire(make.firing(), *tiles)
    acts = [
        lambda by=by, tile=tile: keep_look(by=by, firing=firing, tile=tile, surface="satin")
        for by, tile in zip(two, tiles, strict=True)
    ]
    assert {answer.tile_id for answer in at_once(*acts)} == {tile.pk for tile in tiles}


def test_two_taps_at_one_moment_are_one_draft(two):
    tile = make.tile(layers=[{"glaze": make.glaze()}])
    firing = make.fire(make.firing(), tile)
    acts = [
        lambda s=s: keep_draft(by=two[0], firing=firing, tile=tile, data={"surface": [s]})
        for s in ("dry", "satin")
    ]
    at_once(*acts)
    assert LookDraft.objects.get().data["surface"] in (["dry"], ["satin"])


def test_a_tap_and_its_look_at_one_moment_leave_no_draft(two):
    tile, look = make.tile(layers=[{"glaze": make.glaze()}]), uuid.uuid4()
    firing, data = make.fire(make.firing(), tile), {"surface": ["dry"], "look": [str(look)]}
    at_once(
        lambda: keep_draft(by=two[0], firing=firing, tile=tile, data=data),
        lambda: keep_look(by=two[0], firing=firing, tile=tile, surface="dry", id=look),
    )
    assert (tile.outcomes.get().pk, LookDraft.objects.count()) == (look, 0)


def test_one_photo_picked_for_two_tiles_goes_to_one(two):
    tiles = [make.tile(by=two[0], layers=[{"glaze": make.glaze()}]) for _n in two]
    firing = make.fire(make.firing(), *tiles)
    file = SimpleUploadedFile("kiln.jpg", photo_files.jpeg((300, 200)))
    loose = add_loose_photo(by=two[0], firing=firing, file=file)
    acts = [
        lambda t=t: pick_photo(by=two[0], loose=LoosePhoto.objects.get(pk=loose.pk), tile=t) for t in tiles
    ]
    answers = at_once(*acts)
    assert sorted(isinstance(answer, Refused) for answer in answers) == [False, True]
    assert Photo.objects.count() == 1


def test_a_look_and_a_step_back_at_one_moment_leave_one_of_them(two):
    """The tile was looked at after an earlier firing, so its own state says nothing against the look."""
    tile = make.fired_tile(outcome={"surface": "dry"})
    firing = make.fire(make.firing(kind="refire"), tile)
    answers = at_once(
        lambda: keep_look(by=two[0], firing=firing, tile=tile, surface="satin"),
        lambda: step_back(by=make.manager(), firing=Firing.objects.get(pk=firing.pk), reason="a wrong tap"),
    )
    assert sorted(isinstance(answer, Refused) for answer in answers) == [False, True]
    firing.refresh_from_db()
    assert firing.outcomes.exists() is (firing.state == "unloaded")
