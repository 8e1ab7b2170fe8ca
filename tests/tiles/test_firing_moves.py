"""Taking a firing on from its page: what is asked once more, one step back, and what is refused."""

from django.urls import reverse
from django.utils import timezone

from tests import make
from tests.reading import text_of
from tests.tiles.firing_forms import at
from tiles import actions
from tiles.models import Firing


def test_the_steps_are_buttons_and_lead_to_the_end(tech):
    firing = make.firing()
    for state, words in (
        ("firing", "It is firing now"),
        ("cooling", "It is cooling"),
        ("unloaded", "It is unloaded"),
    ):
        shown = tech.get(firing.get_absolute_url())
        assert words in text_of(shown)
        if state == "cooling":
            assert 'name="state" value="cooling"' in shown.content.decode()
        else:  # what changes every tile is asked about once more
            asked = tech.get(at("move", firing), {"state": state})
            assert f"?state={state}" in shown.content.decode()
            assert f"{words}?" in text_of(asked)
            assert f'name="state" value="{state}"' in asked.content.decode()
        tech.post(at("move", firing), {"state": state, "version": Firing.objects.get().version})
        firing.refresh_from_db()
        assert firing.state == state
    assert 'name="state"' not in tech.get(firing.get_absolute_url()).content.decode()


def test_to_begin_to_load_leads_to_the_page_where_tiles_go_in(tech):
    firing = make.firing()
    assert "Load the kiln" not in text_of(tech.get(firing.get_absolute_url()))
    begun = tech.post(at("move", firing), {"state": "loading", "version": firing.version})
    assert begun["Location"] == at("load", firing)
    assert "Load the kiln" in text_of(tech.get(firing.get_absolute_url()))
    deeper = tech.get(firing.get_absolute_url()).content.decode()
    assert f'href="{reverse("tiles:firing-list")}" aria-current="true"' in deeper


def test_a_step_that_is_not_open_is_refused_in_words(tech):
    firing = make.firing()
    response = tech.post(at("move", firing), {"state": "unloaded", "version": firing.version})
    assert f"Firing {firing.number} is planned; it cannot become unloaded from there." in text_of(response)


def test_a_step_from_an_old_page_is_a_conflict(tech, people):
    firing = make.firing()
    actions.change_firing(by=people["manager"], obj=firing, values={"remark": "x"})
    assert tech.post(at("move", firing), {"state": "firing", "version": 1}).status_code == 409
    firing.refresh_from_db()
    assert firing.state == "planned"


def test_a_step_can_be_written_down_for_a_moment_that_is_past(tech):
    firing = make.firing()
    tech.post(at("move", firing), {"state": "firing", "at": "2026-01-02T08:30", "version": firing.version})
    firing.refresh_from_db()
    assert timezone.localtime(firing.started_at).isoformat()[:16] == "2026-01-02T08:30"
    future = tech.post(at("move", firing), {"state": "stopped", "at": "2199-01-02T08:30"})
    assert "This lies in the future" in text_of(future)
    before = tech.post(at("move", firing), {"state": "stopped", "at": "2025-01-02T08:30"})
    assert "before it was started" in text_of(before)
    assert 'value="2025-01-02T08:30"' in before.content.decode()


def test_a_wrong_tap_is_taken_back_on_a_page_that_says_what_follows(tech):
    tile = make.fired_tile()
    firing = tile.tile_firings.get().firing
    assert at("back", firing) in tech.get(firing.get_absolute_url()).content.decode()
    asked = text_of(tech.get(at("back", firing)))
    assert "Back to cooling?" in asked
    assert f"{tile} is glazed again." in asked
    unsaid = tech.post(at("back", firing), {"version": firing.version, "reason": ""})
    assert "required" in text_of(unsaid)
    sent = {"version": Firing.objects.get().version, "reason": "tapped by mistake"}
    done = tech.post(at("back", firing), sent, follow=True)
    assert f"{firing} is cooling again." in text_of(done)
    tile.refresh_from_db()
    assert tile.state == "glazed"


def test_what_was_looked_at_cannot_go_back_and_the_page_says_how_many_looks(tech):
    tile = make.fired_tile(outcome={"surface": "satin"})
    firing = tile.tile_firings.get().firing
    actions.record_outcome(by=make.manager(), tile=tile, verdict="again")
    page = tech.get(at("back", firing))
    assert "2 looks at its tiles are recorded already" in text_of(page)
    assert "Take the step back" not in text_of(page)
    refused = tech.post(at("back", firing), {"reason": "x"})
    assert "2 looks at its tiles are recorded already" in text_of(refused)
    firing.refresh_from_db()
    assert firing.state == "unloaded"


def test_a_stop_asks_for_a_reason_before_the_kiln_is_lit(tech):
    body = make.body(low="5", high="7")
    firing, tile = make.firing(target="6"), make.tile("9", body=body)
    actions.load_tile(by=make.manager(), firing=firing, tile=tile)
    actions.change_body(by=make.manager(), obj=body, values={"cone_high": make.cone("5")})
    shown = text_of(tech.get(firing.get_absolute_url()))
    assert "Stop: Tile 9" in shown
    assert "Stop: Tile 9" in text_of(tech.get(at("move", firing), {"state": "firing"}))
    refused = tech.post(at("move", firing), {"state": "firing"})
    assert "or say why it is fired all the same" in text_of(refused)
    firing.refresh_from_db()
    assert firing.state == "planned"
    tech.post(at("stay", firing), {"what": "tile", "row": tile.pk, "override_reason": "in a dish"})
    assert "Reason given: in a dish" in text_of(tech.get(firing.get_absolute_url()))
    tech.post(at("move", firing), {"state": "firing"})
    firing.refresh_from_db()
    assert firing.state == "firing"


def test_a_stopped_firing_leads_to_looking_at_its_tiles(tech):
    firing, tile = make.firing(), make.tile(layers=[{"glaze": make.glaze()}])
    make.fire(firing, tile, stop=True)
    page = tech.get(firing.get_absolute_url())
    assert "It did not reach its cone." in text_of(page)
    assert reverse("tiles:unload", args=[firing.number]) in page.content.decode()
    look = actions.record_outcome(by=make.manager(), tile=tile, surface="dry", remark="not reached")
    assert look.firing == firing
    tile.refresh_from_db()
    assert tile.cone is None
