"""Trials at home: begun, ended, photographed, taken back; on the tile's page, and never more than a screen."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.api_calls import picture
from tests.photo_files import jpeg
from tests.reading import text_of
from tiles.actions.home_trials import (
    add_trial_photo,
    archive_trial_photo,
    begin_trial,
    end_trial,
    take_trial_back,
)
from tiles.models import HomeTrial, HomeTrialPhoto, Tile
from tiles.story import story


@pytest.fixture
def tile():
    return make.fired_tile()


def begun(by, tile, **fields):
    return begin_trial(by=by, tile=tile, kind="acid", done="vinegar, three days", **fields)


def test_from_the_first_photo_to_the_result(client, member, tile):
    client.force_login(member)
    address = reverse("tiles:trial-begin", args=[tile.number])
    sent = {
        "kind": "acid",
        "done": "vinegar, three days",
        "begun_on": timezone.localdate(),
        "photo": picture(),
    }
    assert client.post(address, sent).status_code == 302
    trial = HomeTrial.objects.get()
    page = text_of(client.get(tile.get_absolute_url()))
    assert "Acid soak: still running" in page
    for act in ("Say what came of it", "Add a photo", "Take it back", "Take off"):
        assert act in page
    ended = {"result": "not_yet_failed", "seen": "", "ended_on": timezone.localdate()}
    ended["photo"] = SimpleUploadedFile("after.jpg", jpeg(size=(310, 500)))  # the same one twice is refused
    assert client.post(reverse("tiles:trial-end", args=[trial.pk]), ended).status_code == 302
    whole = client.get(tile.get_absolute_url())
    page = text_of(whole)
    assert "Acid soak: not yet failed" in page
    assert "Trial at home, acid soak: not yet failed" in page
    assert "A trial at home is a screen only" in page
    # Both pictures stand on the page, the one from before first.
    photos = {photo.stage: str(photo.pk) for photo in HomeTrialPhoto.objects.all()}
    assert set(photos) == {"before", "after"}
    assert whole.content.decode().index(photos["before"]) < whole.content.decode().index(photos["after"])


def test_a_refused_step_keeps_what_was_typed(client, member, tile):
    client.force_login(member)
    trial = begun(member, tile)
    answer = client.post(
        reverse("tiles:trial-end", args=[trial.pk]),
        {"result": "failed", "seen": "", "ended_on": timezone.localdate(), "photo": picture()},
    )
    assert set(answer.context["form"].errors) == {"seen", "photo"}
    assert answer.context["form"]["result"].value() == "failed"
    assert HomeTrialPhoto.objects.count() == 0


def test_only_a_fired_tile_and_no_day_ahead(member, tile):
    with pytest.raises(Refused, match="fired tile"):
        begun(member, make.tile())
    tomorrow = timezone.localdate() + timedelta(days=2)
    with pytest.raises(Refused, match="future"):
        begun(member, tile, begun_on=tomorrow)
    trial = begun(member, tile)
    for how in ({"result": ""}, {"result": "fine"}, {"result": "failed"}):
        with pytest.raises(Refused):
            end_trial(by=member, trial=trial, **how)
    yesterday = timezone.localdate() - timedelta(days=2)
    with pytest.raises(Refused, match="before it began"):
        end_trial(by=member, trial=trial, result="unclear", ended_on=yesterday)
    end_trial(by=member, trial=trial, result="unclear")
    with pytest.raises(Refused, match="ended already"):
        end_trial(by=member, trial=trial, result="not_yet_failed")


def test_who_may_take_back_what(member, tile, technician):
    trial = begun(member, tile)
    photo = add_trial_photo(by=member, trial=trial, file=picture(), stage="before")
    stranger = make.person()
    for act in (
        lambda: take_trial_back(by=stranger, trial=trial, reason="no"),
        lambda: archive_trial_photo(by=stranger, photo=photo),
    ):
        with pytest.raises(NotAllowed):
            act()
    archive_trial_photo(by=member, photo=photo)
    add_trial_photo(by=member, trial=trial, file=picture(), stage="before")  # the same, taken off before
    with pytest.raises(Refused, match="here already"):
        add_trial_photo(by=member, trial=trial, file=picture(), stage="after")
    with pytest.raises(Refused, match="Say why"):
        take_trial_back(by=technician, trial=trial, reason="")
    take_trial_back(by=technician, trial=trial, reason="another tile")
    with pytest.raises(Refused, match="taken back"):
        end_trial(by=member, trial=trial, result="unclear")
    verbs = Change.objects.filter(kind="tiles.tile", object_id=tile.pk).values_list("verb", flat=True)
    assert {"began a trial at home", "took back a trial at home"} <= set(verbs)


def test_the_photo_of_a_private_tile_is_not_there_for_others(client, member, tile):
    trial = begun(tile.maker, tile, before=[picture()])
    address = reverse("tiles:trial-photo", args=[trial.photos.get().pk, "small"])
    client.force_login(member)
    assert client.get(address).status_code == 200
    type(tile).objects.filter(pk=tile.pk).update(visibility="mine")
    assert client.get(address).status_code == 404
    assert client.get(reverse("tiles:trial-end", args=[trial.pk])).status_code == 404


def test_the_story_tells_it_after_the_firing_that_it_followed(member, tile):
    trial = begun(member, tile)
    earlier = begun(member, tile, begun_on=timezone.localdate() - timedelta(days=400))
    chapters = story(Tile.objects.for_the_wall().get(pk=tile.pk))
    assert [chapter.trials for chapter in chapters if chapter.row] == [[trial]]
    assert chapters[-1].trials == [earlier]
    take_trial_back(by=member, trial=trial, reason="by mistake")
    assert [chapter.trials for chapter in story(tile) if chapter.row] == [[]]
