"""Each finding that can be said before the kiln: of a tile and of a planned pot, on page and API, on both sides."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import GlazeSubstance
from studio.errors import Refused
from tests import make
from tests.reading import text_of

JSON = {"content_type": "application/json"}


class Shelf:
    """What the cases are made of; each glaze has no cone range unless a case is about that."""

    def __init__(self, member):
        self.member = member
        self.runny = make.glaze("Runs", low=None, high=None, expected_movement_mm=Decimal("5.1"))
        self.still = make.glaze("Stays", low=None, high=None, expected_movement_mm=Decimal("5.0"))
        self.colour = make.glaze("Colour", low=None, high=None, kind="engobe")
        self.cool = make.glaze("Cool", low="04", high="03")
        self.hot = make.glaze("Hot", low="5", high="6")
        self.wide = make.glaze("Wide", low="03", high="6")
        self.grave = make.glaze("Blue", low=None, high=None)
        GlazeSubstance.objects.create(glaze=self.grave, substance="Co", by=member, read_in="maker")

    def bucket(self, sg=None, **fields):
        return make.fill(make.glaze(low=None, high=None, sg_low="1.42", sg_high="1.48"), sg=sg, **fields)

    def flagged(self, kind):
        found = self.bucket()
        shelf.raise_flag(by=self.member, fill=found, kind=kind)
        return found

    def rested(self, days):
        found = self.bucket(days_ago=90)
        shelf.treat(
            by=self.member, fill=found, kind="stirred", at=timezone.now() - timedelta(days=days, minutes=5)
        )
        return found


def over(*layers):
    return [{"area": "upper", **layer} for layer in layers]


def gap(w, **between):
    first = timezone.now().replace(second=0, microsecond=0) - timedelta(days=3)
    return over(
        {"glaze": w.still, "applied_at": first},
        {"glaze": w.still, "applied_at": first + timedelta(**between)},
    )


# code: (what is said of it, what is not), as functions of the shelf.
CASES = {
    "cone_ranges_apart": lambda w: (
        over({"glaze": w.cool}, {"glaze": w.hot}),
        over({"glaze": w.wide}, {"glaze": w.hot}),
    ),
    "runny_near_foot": lambda w: (
        [{"glaze": w.runny, "area": "lower"}],
        [{"glaze": w.still, "area": "lower"}],
    ),
    "runny_on_runny": lambda w: (
        over({"glaze": w.runny}, {"glaze": w.runny}),
        over({"glaze": w.runny}, {"glaze": w.still}),
    ),
    "glaze_on_foot": lambda w: ([{"glaze": w.still, "area": "foot"}], [{"glaze": w.still, "area": "lower"}]),
    "thick_on_foot": lambda w: (
        [{"glaze": w.colour, "area": "foot", "coats": 3}],
        [{"glaze": w.colour, "area": "foot", "coats": 2}],
    ),
    "stirred_in": lambda w: (over({"glaze": w.still, "stirred_in": w.colour}), over({"glaze": w.still})),
    "coat_on_undried": lambda w: (
        over({"glaze": w.still}, {"glaze": w.still, "ground_state": "damp"}),
        over({"glaze": w.still}, {"glaze": w.still, "ground_state": "clean"}),
    ),
    "coat_after_a_day": lambda w: (gap(w, hours=24, minutes=1), gap(w, hours=24)),
    "coat_soon_after": lambda w: (gap(w, minutes=4), gap(w, minutes=5)),
    "ground_oily": lambda w: (
        over({"glaze": w.still, "ground_state": "oily"}),
        over({"glaze": w.still, "ground_state": "clean"}),
    ),
    "ground_dusty": lambda w: (over({"glaze": w.still, "ground_state": "dusty"}), over({"glaze": w.still})),
    "on_fired_glaze": lambda w: (
        over({"glaze": w.still, "ground": "fired"}),
        over({"glaze": w.still, "ground": "bisque"}),
    ),
    "fill_ask_first": lambda w: (over({"fill": w.bucket("1.49")}), over({"fill": w.bucket("1.48")})),
    "fill_do_not_use": lambda w: (
        over({"fill": w.flagged("contaminated")}),
        over({"fill": w.flagged("dried_out")}),
    ),
    "not_stirred": lambda w: (over({"fill": w.rested(7)}), over({"fill": w.rested(6)})),
    "few_coats": lambda w: (
        over({"glaze": w.still, "method": "brush", "coats": 2}),
        over({"glaze": w.still, "method": "brush", "coats": 3}),
    ),
    "uneven_coats": lambda w: (
        over({"glaze": w.still, "is_even": False}),
        over({"glaze": w.still, "is_even": True}),
    ),
    "stiff_brush": lambda w: (
        over({"glaze": w.still, "method": "brush", "coats": 3, "tool": "hog brush"}),
        over({"glaze": w.still, "method": "brush", "coats": 3, "tool": "soft mop"}),
    ),
    "hazard_in_spray": lambda w: (
        over({"glaze": w.grave, "method": "spray"}),
        over({"glaze": w.still, "method": "spray"}),
    ),
    "hazard_on_skin": lambda w: (
        over({"glaze": w.grave, "method": "dip"}),
        over({"glaze": w.still, "method": "dip"}),
    ),
}
# What is only known once it was done.
OF_TILES_ALONE = {"coat_after_a_day", "coat_soon_after", "uneven_coats"}


@pytest.fixture
def w(member, client):
    client.force_login(member)
    return Shelf(member)


def plain(sentence):
    return " ".join(sentence.split())


def of_tile(client, tile):
    found = client.get(f"/api/v1/tiles/{tile.pk}/findings/").json()["findings"]
    page = text_of(client.get(tile.get_absolute_url()))
    assert all(plain(one["sentence"]) in page for one in found)
    assert all(one["source"] for one in found)
    return {one["code"]: one for one in found}


def of_pot(client, layers, **pot):
    keys = {"glaze": "glaze-", "fill": "fill-"}
    sent = [{k: str(getattr(v, "pk", v)) for k, v in layer.items()} for layer in layers]
    asked = {"layers": sent, **{k: str(getattr(v, "pk", v)) for k, v in pot.items()}}
    answer = client.post("/api/v1/pots/findings/", asked, **JSON)
    assert answer.status_code == 200, answer.json()
    found = answer.json()["findings"]
    names = ("area", "method", "coats", "tool", "ground", "ground_state", "stirred_in")
    query = {name: [one.get(name, "") for one in sent] for name in names}
    query["stirred_in"] = [f"glaze-{one}" if one else "" for one in query["stirred_in"]]
    query["layer"] = [keys[k] + one[k] for one in sent for k in keys if k in one]
    page = text_of(client.get("/pot/", query | {k: str(getattr(v, "pk", v)) for k, v in pot.items()}))
    assert all(plain(one["sentence"]) in page for one in found)
    return {one["code"] for one in found}


@pytest.mark.parametrize("code", CASES)
def test_a_finding_is_said_on_one_side_of_its_limit_and_not_on_the_other(client, w, code):
    said, unsaid = CASES[code](w)
    bad, good = (make.tile(by=w.member, layers=layers) for layers in (said, unsaid))
    found = of_tile(client, bad)
    assert code in found
    assert code not in of_tile(client, good)
    if code not in OF_TILES_ALONE:
        assert code in of_pot(client, said)
        assert code not in of_pot(client, unsaid)
    if found[code]["level"] == "warn":
        _answered(client, bad, found[code])


def _answered(client, tile, finding):
    """On the page, with a reason; it is with the tile still when it has been fired."""
    answer = reverse("tiles:finding-answer", args=[tile.number])
    bare = client.post(answer, {"key": finding["key"], "reason": " ", "back": "tile"})
    assert "Say why this is all right here" in text_of(bare)
    assert not tile.acknowledgements.exists()
    client.post(answer, {"key": finding["key"], "reason": "on purpose, to see", "back": "tile"})
    assert of_tile(client, tile)[finding["code"]]["answer"]["reason"] == "on purpose, to see"
    make.fire(make.firing(), tile)
    page = text_of(client.get(tile.get_absolute_url()))
    assert plain(finding["sentence"]) in page
    assert "on purpose, to see" in page


@pytest.mark.parametrize(
    ("low", "high", "is_said"),
    [("4", "5", True), ("7", "8", True), ("6", "6", False)],
)
def test_the_body_comes_before_any_glaze(client, w, low, high, is_said):
    layers, body, firing = over({"glaze": w.cool}), make.body(low=low, high=high), make.firing(target="6")
    tile = make.tile(by=w.member, body=body, layers=layers)
    asked = client.get(f"/api/v1/tiles/{tile.pk}/findings/?firing={firing.pk}").json()["findings"]
    expected = ["body_outside_cone", "glaze_outside_cone"] if is_said else ["glaze_outside_cone"]
    assert [one["code"] for one in asked] == expected
    assert of_pot(client, layers, body=body, cone="6") == {*expected}


def test_a_kiln_that_is_too_cool(client, w):
    """A firing beyond its kiln cannot be planned at all; a pot may be thought of."""
    layers = over({"glaze": w.still})
    for highest, said in (("5", {"kiln_too_cool"}), ("6", set())):
        assert of_pot(client, layers, kiln=make.kiln(highest=highest), cone="6") == said
    with pytest.raises(Refused, match="goes no higher than"):
        make.firing(make.kiln(highest="5"), target="6")
