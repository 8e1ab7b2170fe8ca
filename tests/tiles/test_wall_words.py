"""What is typed into the search: words that name a look or a cone are taken as such, and said so one by one."""

import pytest
from django.http import QueryDict
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import make
from tests.tiles.test_wall import rails
from tiles.calc.wall_words import pieces, without
from tiles.forms.wall import understood

SATIN = {"zone": "whole", "surface": "satin"}


@pytest.fixture
def wall(client, member):
    client.force_login(member)
    flour = make.glaze("Flour Satin")
    make.fired_tile(number="GLOSSY-FLOUR", layers=[{"glaze": flour}], outcome={**SATIN, "surface": "glossy"})
    make.fired_tile(number="SATIN-6", outcome=SATIN)
    make.fired_tile(number="SATIN-06", target="06", outcome=SATIN)
    return client


def found(client, text):
    response = client.get("/wall/", {"q": text})
    numbers = sorted(number for numbers in rails(response).values() for number in numbers)
    said = {one.words.replace("\xa0", " "): one.without for one in response.context["asked"]}
    return numbers, {words: QueryDict(query).get("q", "") for words, query in said.items()}


@pytest.mark.parametrize(
    ("text", "numbers", "said"),
    [
        (
            "satin cone 6",
            ["SATIN-6"],
            {"surface satin": "cone 6", "cone 6 (1222 °C)": "satin"},
        ),
        ("Satin ^06", ["SATIN-06"], {"surface satin": "^06", "cone 06 (998 °C)": "Satin"}),
        ('"satin" cone 6', ["GLOSSY-FLOUR", "SATIN-6"], None),
        ('"flour satin"', ["GLOSSY-FLOUR"], {"“flour satin”": ""}),
        ("“Flour Satin”", ["GLOSSY-FLOUR"], {"“Flour Satin”": ""}),
        ("flour satin", [], {"“flour”": "satin", "surface satin": "flour"}),
        ("flour", ["GLOSSY-FLOUR"], {"“flour”": ""}),
        ("cone 6", ["GLOSSY-FLOUR", "SATIN-6"], None),
        ("cone 06-6 satin", ["SATIN-06", "SATIN-6"], None),
        ("satin glossy cone 6", ["GLOSSY-FLOUR", "SATIN-6"], None),
    ],
)
def test_words_that_name_a_look_mean_that_look(wall, text, numbers, said):
    # "satin" in quotes stands in the number of one tile and in the glaze of the other.
    shown, explained = found(wall, text)
    assert shown == numbers
    if said is not None:
        assert explained == said


@pytest.mark.parametrize("text", ["pinholes", "pinhole", "pinholing", "Pinholed", "pinhol"])
def test_a_fault_is_found_by_any_form_of_its_word(wall, text):
    with_pinholes = {**SATIN, "faults": [{"kind": "pinholing", "where": ""}]}
    make.fired_tile(number="PITTED", outcome=with_pinholes)
    make.fired_tile(number="CRAZED", outcome={**SATIN, "faults": [{"kind": "crazing", "where": ""}]})
    assert found(wall, text)[0] == ["PITTED"]
    assert found(wall, "crazed")[0] == ["CRAZED"]
    assert found(wall, f"satin {text}")[0] == ["PITTED"]
    assert found(wall, '"pinholes"')[0] == []


@settings(max_examples=25, deadline=None)
@given(st.text(alphabet=' "“”^,.½0156-acenostir', max_size=40))
def test_every_letter_is_in_a_piece_or_between_two(text):
    looks = {"satin": ("surface", "satin")}
    found = pieces(text, looks)
    assert [p.start for p in found] == sorted(p.start for p in found)
    between, at = "", 0
    for piece in found:
        assert piece.start >= at
        between, at = between + text[at : piece.start], piece.end
    assert not any(letter.isalnum() or letter in "^.½-" for letter in between + text[at:])


def test_taken_off_word_by_word_nothing_is_left():
    text = 'satin "flour satin" cone 5 1/2 opaque'
    while understood(text):
        text = without(text, understood(text)[0])
    assert text == ""
