"""Where a fault is: one word is kept whatever language is spoken, and understood in either."""

from tests import make
from tests.reading import text_of
from tiles.causes import why
from tiles.fault_places import PLACES
from tiles.models import OutcomeFault
from tiles.soundness import soundness


def two_layers(member, number):
    glazes = [make.glaze(), make.glaze()]
    layers = [{"glaze": glazes[0], "area": "whole"}, {"glaze": glazes[1], "area": "upper"}]
    return make.fired_tile(by=member, number=number, layers=layers)


def test_a_place_is_kept_by_its_word_and_shown_in_the_readers(client, member, monkeypatch):
    client.force_login(member)
    monkeypatch.setitem(PLACES, "overlap", "Überlappung")
    for number, where in (("P1", {"at_running": "overlap"}), ("P2", {"where_running": "an der Überlappung"})):
        tile = two_layers(member, number)
        sent = {
            "zone": "whole:",
            "looked_on": "2026-01-02",
            "fault_running": "on",
            "version": tile.version,
            **where,
        }
        assert client.post(f"/t/{number}/look", sent)["Location"] == f"/t/{number}"
        assert "Überlappung)" in text_of(client.get(f"/t/{number}"))
        tile.refresh_from_db()
        first = why(tile, "running", member).causes
        assert any("It is where the layers overlap." in cause.speaks_for for cause in first)
        # What lies on the overlap is no fault of the glaze alone.
        alone = tile.zones.get(kind="alone").combination
        assert soundness(alone, member).in_all.share.good == 1
    assert [fault.where for fault in OutcomeFault.objects.order_by("id")] == ["overlap", "an der Überlappung"]
