"""The drawings of tiles: the same each time, and what is said of a tile is to be seen on it."""

import hashlib
import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from tiles.drawn import Coat, TileLook, draw
from tiles.drawn.draw import pixels
from tiles.drawn.field import coded, linear

BLUE = Coat("#2f5f94", "#9fae9a", "opaque", mottle=0.0)
PLAIN = TileLook(seed=7, body_colour="#e4ddd0", coats=(BLUE,), surface="matte", texture="plain", grit=0.0)
# Rows and columns of a patch well inside the glaze, and of one on the bare foot.
GLAZED, FOOT = (slice(560, 680), slice(150, 390)), (slice(790, 830), slice(150, 390))


def middle(look, patch=GLAZED):
    return np.median(pixels(look)[patch].reshape(-1, 3), axis=0)


def luminance(look):
    """Relative luminance of every pixel, weights of IEC 61966-2-1."""
    return pixels(look).astype(float) @ (0.2126, 0.7152, 0.0722)


def test_the_same_look_gives_the_same_file():
    found = {hashlib.sha256(draw(PLAIN)).hexdigest() for _i in range(2)}
    assert len(found) == 1
    assert hashlib.sha256(draw(replace(PLAIN, seed=8))).hexdigest() not in found


def test_it_is_an_upright_jpeg_of_three_to_five():
    picture = Image.open(io.BytesIO(draw(PLAIN)))
    assert picture.format == "JPEG"
    assert picture.width * 5 == picture.height * 3


@pytest.mark.parametrize("text", ["#000000", "#ffffff", "#2f5f94", "#0a0102"])
def test_colours_go_to_light_and_back(text):
    """Both formulas are those of IEC 61966-2-1 (sRGB); its middle grey, 118 of 255, is 0.181 of white."""
    assert bytes(coded(linear(text))).hex() == text[1:]
    assert float(linear("#767676")[0]) == pytest.approx(0.181, abs=0.001)


def test_an_opaque_coat_shows_its_own_colour_and_the_foot_is_bare_clay():
    assert np.abs(middle(PLAIN) - (0x2F, 0x5F, 0x94)).max() < 22
    assert np.abs(middle(PLAIN, FOOT) - (0xE4, 0xDD, 0xD0)).max() < 22


def test_through_a_transparent_coat_the_clay_is_seen():
    clear = Coat("#eef0ea", "#eef0ea", "transparent")
    red, white = (middle(replace(PLAIN, coats=(clear,), body_colour=c)) for c in ("#b4694a", "#f0ece4"))
    assert red[0] > red[2] + 50
    assert np.abs(white - (0xF0, 0xEC, 0xE4)).max() < 25


def test_what_moved_lies_lower():
    """The lowest blue pixel under the line of an upper coat."""

    def reach(movement):
        upper = replace(BLUE, area="upper", movement_mm=movement)
        seen = pixels(replace(PLAIN, coats=(upper,))).astype(int)
        return np.nonzero((seen[..., 2] - seen[..., 0] > 40).any(axis=1))[0].max()

    assert reach(0) + 50 < reach(10) < reach(25)


def test_gloss_mirrors_and_a_matte_does_not():
    combed = replace(PLAIN, texture="combed")
    inside = (slice(270, 430), slice(80, 460))
    bright = {
        s: np.percentile(luminance(replace(combed, surface=s))[inside], 99.95) for s in ("glossy", "matte")
    }
    assert bright["glossy"] > bright["matte"] + 15


@pytest.mark.parametrize(
    "kind", ["crazing", "crawling", "pinholing", "blistering", "shivering", "bloating", "dunting"]
)
def test_a_fault_is_seen_and_only_where_it_is_said_to_be(kind):
    said = replace(PLAIN, surface="glossy", faults=((kind, "lower third"),))
    changed = np.abs(luminance(said) - luminance(replace(said, faults=()))) > 8
    if kind != "dunting":  # a crack goes right through
        assert changed[500:].sum() > 20 * max(1, changed[:380].sum())
    assert changed.sum() > 150


def test_where_it_crawled_the_clay_is_bare():
    crawled = pixels(replace(PLAIN, faults=(("crawling", ""),)))[:700].astype(int)
    clay = np.abs(crawled - (0xE4, 0xDD, 0xD0)).max(axis=2) < 25
    assert 0.05 < clay[60:, 60:480].mean() < 0.6


@pytest.mark.parametrize("wrong", [{"surface": "shiny"}, {"coats": (replace(BLUE, opacity="muddy"),)}])
def test_words_that_mean_nothing_are_refused(wrong):
    with pytest.raises(ValueError, match="is"):
        replace(PLAIN, **wrong)
