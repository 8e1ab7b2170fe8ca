"""The food-contact record where it is read: the pages of a pot, glaze, bucket, tile and combination; the API."""

import re

import pytest
from django.urls import reverse

from inventory import actions as shelf
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tests.tiles.food_world import CONE6, bought, fired, lab


@pytest.fixture
def reader(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def mug(studio):
    return {"body": make.body(), "cone": CONE6, "form": "mug"}


def box(answer):
    """The bordered box: its words."""
    found = re.search(r'<section class="record" id="food".*?</section>', answer.content.decode(), re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", found.group()).split())


def test_a_pot_is_planned_by_its_address_alone(reader, mug):
    one, other = bought(label_condition="cone 6"), bought()
    page = reader.get("/pot/")
    assert "record" not in text_of(page).split("Layer 1")[1]
    query = {
        "layer": [f"fill-{one.pk}", "", f"glaze-{other.glaze.pk}"],
        "area": ["whole", "whole", "lip"],
        "body": mug["body"].pk,
        "cone": "6",
        "form": "mug",
    }
    page = reader.get("/pot/", query)
    said = box(page)
    assert "Not known." in said
    assert f"Layer 1, {one.glaze.name}: its container says “food safe” (cone 6), of this glaze alone." in said
    assert f"Layer 2, {other.glaze.name}: no bucket is noted" in said
    assert "a label speaks of one glaze" in said.lower()
    assert page.content.decode().count('name="layer"') == 2  # the empty one is gone
    assert "From the clay outwards: " + f"{one.glaze.name}, {other.glaze.name}" in page.context["stack"].desc
    lab(one, **mug)
    page = reader.get("/pot/", {**query, "layer": [f"fill-{one.pk}"], "area": ["whole"]})
    assert box(page).startswith("Food-contact record On record.")


def test_how_a_layer_goes_on_counts_for_food_too(reader, technician, mug):
    """The page asks what is stirred into it and what it goes onto: the record beside it must not leave that out."""
    fill, red = bought(), bought().glaze
    lab(fill, **mug)
    shelf.note_substance(by=technician, glaze=red, substance="Cd", read_in="maker")
    layer = {"fill": str(fill.pk)}
    asked = {"layer": [f"fill-{fill.pk}"], "area": ["whole"], "cone": "6", "form": "mug"}
    asked["body"] = mug["body"].pk
    for how, said, expected in (
        ({}, {}, "on_record"),
        ({"stirred_in": [f"glaze-{red.pk}"]}, {"stirred_in": str(red.pk)}, "kept_away"),
        ({"ground": ["fired"]}, {"ground": "fired"}, "not_known"),
    ):
        assert reader.get("/pot/", {**asked, **how}).context["food"].verdict == expected
        body = {"layers": [{**layer, **said}], "body": str(mug["body"].pk), "cone": "6", "form": "mug"}
        answer = reader.post(reverse("api-pots-food"), body, content_type="application/json")
        assert answer.json()["verdict"] == expected
    # A name keeps its capital wherever it stands.
    stirred = box(reader.get("/pot/", {**asked, "stirred_in": [f"glaze-{red.pk}"]}))
    assert f"Layer 1, {fill.glaze.name}: {red.name} was stirred into it" in stirred
    assert "It goes onto a fired glaze" in box(reader.get("/pot/", {**asked, "ground": ["fired"]}))


def test_a_layer_is_added_without_a_script(reader):
    fill = bought()
    page = reader.get("/pot/", {"layer": [f"fill-{fill.pk}"], "area": ["inside"], "add": "1"})
    text = page.content.decode()
    assert text.count('name="layer"') == 2
    assert f'value="fill-{fill.pk}" selected' in text
    assert 'value="inside" selected' in text
    full = reader.get("/pot/", {"layer": [f"fill-{fill.pk}"] * 12, "add": "1"}).content.decode()
    assert "Add a layer" not in full


def test_what_is_not_understood_is_said_and_nothing_is_concluded(reader):
    fill = bought()
    for wrong in ({"layer": ["fill-nonsense"]}, {"layer": [f"fill-{fill.pk}"], "cone": "77"}):
        page = reader.get("/pot/", wrong)
        assert page.status_code == 200
        assert 'id="food"' not in page.content.decode()
        assert "errorlist" in page.content.decode()


def test_its_questions_to_the_database_do_not_grow_with_the_shelf(reader):
    fill = bought()
    same_for_more(reader, f"/pot/?layer=fill-{fill.pk}&cone=6", lambda n: [bought() for _i in range(n)])


def test_every_page_says_it_and_never_more_than_is_known(reader):
    """The software's own words never judge: the words of judgement stand only inside a quoted label."""
    fill = bought(label_condition="cone 6")
    tile = fired(fill)
    combination = reverse("tiles:combination", args=[tile.zones.get().combination_id])
    pages = [
        tile.get_absolute_url(),
        combination,
        fill.glaze.get_absolute_url(),
        fill.bucket.get_absolute_url(),
    ]
    pages.append(f"/pot/?layer=fill-{fill.pk}")
    for flagged in (False, True):
        for page in pages:
            said = box(reader.get(page))
            assert ("Keep it away from food and drink." in said) is flagged, page
            assert ("Not known." in said) is not flagged
            assert "What goes with it always" in said
            # In short outside of what is folded away, with the verdict and its reasons.
            open_ = said.partition("What goes with it always")[0]
            assert "Whoever needs to know asks a laboratory." in open_
            assert ("mark it before it leaves the studio" in open_) is flagged
            assert ("Not for Food Use" in said) is flagged
            assert not re.search(r"\b(safe|approved|certified)\b", re.sub(r"“[^”]*”", "", said))
        shelf.raise_flag(by=make.person(), fill=fill, kind="not_for_food")


def test_no_sentence_of_the_catalogue_promises_anything():
    from tiles.food_sentences import BESIDE, LINES, ORNAMENTAL, VERDICTS

    said = [*LINES.values(), *VERDICTS.values(), *(text for text, _source in (*BESIDE, ORNAMENTAL))]
    for sentence in said:
        unquoted = re.sub(r"“[^”]*”", "", str(sentence))
        assert not re.search(
            r"\b(safe|safely|approved|certified|harmless|pass(ed)?)\b", unquoted.replace("a pass means", "")
        )


def test_over_the_api_it_is_the_same_record(member, mug):
    from rest_framework.test import APIClient

    client = APIClient()
    client.force_login(member)
    one, other = bought(), bought(lot="C 1")
    lab(one, **mug)
    body = {"layers": [{"fill": str(one.pk)}], "body": str(mug["body"].pk), "cone": "6", "form": "mug"}
    found = client.post(reverse("api-pots-food"), body, format="json").json()
    assert (found["verdict"], found["words"]) == ("on_record", "On record.")
    assert [line["code"] for line in found["lines"]] == ["lab_within", "label_quoted"]
    assert all(set(said) == {"sentence", "source"} and said["source"] for said in found["beside"])
    near = client.post(reverse("api-pots-food"), {**body, "form": "jug"}, format="json").json()
    assert near["verdict"] == "not_known"
    assert near["near"][0]["differs"] == ["another form, or one that nobody noted"]
    both = [{"fill": str(one.pk), "glaze": str(other.glaze.pk)}]
    for wrong, field in (
        ({"layers": both}, "layers"),
        ({**body, "cone": 6}, "cone"),
        ({"layer": []}, "layer"),
    ):
        answer = client.post(reverse("api-pots-food"), wrong, format="json")
        assert answer.status_code == 400
        assert field in str(answer.json())
    for name, record in (("glazes", other.glaze), ("fills", other)):
        assert client.get(reverse(f"api-{name}-food", args=[record.pk])).json()["verdict"] == "not_known"
