"""Files that are not taken in: a code, a sentence that says what to do, and little memory spent on bombs."""

import io
import os
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from studio import photos
from studio.photos.refusing import SENTENCES
from tests import photo_files


@pytest.mark.parametrize("name", photo_files.BAD_FILES)
def test_a_bad_file_is_refused_with_a_sentence(name):
    code, make = photo_files.BAD_FILES[name]
    with pytest.raises(photos.PhotoRefused) as refused:
        photos.prepare(io.BytesIO(make()), name=name)
    assert (refused.value.code, refused.value.name) == (code, name)
    assert str(refused.value) == refused.value.sentence
    assert refused.value.sentence.endswith(".")
    assert "%" not in refused.value.sentence


def test_every_refusal_is_met_by_some_bad_file():
    assert {code for code, _ in photo_files.BAD_FILES.values()} == set(SENTENCES)


def test_the_sentence_names_the_size_and_the_limit():
    with pytest.raises(photos.PhotoRefused) as refused:
        photos.prepare(io.BytesIO(photo_files.png_bomb(30_000)), name="bomb.png")
    assert "30000 × 30000" in refused.value.sentence
    assert "12000" in refused.value.sentence


@pytest.mark.parametrize("part", [0.05, 0.3, 0.6, 0.9, 0.99])
@pytest.mark.parametrize("progressive", [False, True])
def test_a_jpeg_cut_off_anywhere_is_refused(part, progressive):
    raw = photo_files.jpeg((300, 500), progressive=progressive)
    with pytest.raises(photos.PhotoRefused) as refused:
        photos.prepare(io.BytesIO(raw[: int(len(raw) * part)]), name="cut.jpg")
    assert refused.value.code == "unreadable"


@pytest.mark.parametrize(
    ("image", "fits"), [(Image.new("1", (12_000, 32)), True), (Image.new("1", (12_001, 32)), False)]
)
def test_the_limit_of_a_side_is_exact(image, fits):
    raw = io.BytesIO(photo_files.png(image=image))
    if fits:
        assert photos.prepare(raw, name="strip.png").width == 12_000
    else:
        with pytest.raises(photos.PhotoRefused):
            photos.prepare(raw, name="strip.png")


# A process of its own, because the peak of this one is already spent on making the files.
MEASURE = """
import io, resource, sys
from django.conf import settings
settings.configure(USE_I18N=False)
from studio import photos
raw = sys.stdin.buffer.read()
try:
    photos.prepare(io.BytesIO(b"RIFF0000WEBP"), name="")
except photos.PhotoRefused:
    pass
def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
before = peak()
try:
    photos.prepare(io.BytesIO(raw), name="")
except photos.PhotoRefused as refused:
    print(refused.code, (peak() - before) // 1024)
"""


@pytest.mark.parametrize("name", ["bomb.png", "lying.webp", "lying.jpg", "text-bomb.png", "many-pixels.png"])
def test_a_bomb_costs_little_memory(name):
    code, make = photo_files.BAD_FILES[name]
    done = subprocess.run(
        [sys.executable, "-c", MEASURE],
        input=make(),
        capture_output=True,
        check=True,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
    )
    refused, megabytes = done.stdout.split()
    assert refused.decode() == code
    assert int(megabytes) < 40


def only_refusal(raw: bytes) -> None:
    try:
        prepared = photos.prepare(io.BytesIO(raw), name="any")
    except photos.PhotoRefused:
        return
    assert set(prepared.sizes) == set(photos.SIZES)


HEADS = [
    b"",
    b"\xff\xd8\xff",
    b"\x89PNG\r\n\x1a\n",
    b"RIFF\0\0\0\0WEBP",
    b"\0\0\0\x18ftypheic\0\0\0\0mif1heic",
]


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(HEADS), st.binary(max_size=400))
def test_random_bytes_raise_nothing_but_a_refusal(head, rest):
    only_refusal(head + rest)


WHOLE = [
    photo_files.jpeg((48, 80), orientation=6, gps=True, taken="2026:03:14 09:26:53"),
    photo_files.png((48, 80), orientation=6, gps=True),
    photo_files.webp((48, 80), orientation=6, gps=True),
    photo_files.webp((48, 80), animated=True),
    photo_files.heic(),
]


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow's remarks on torn Exif tags
@settings(max_examples=150, deadline=None)
@given(st.sampled_from(WHOLE), st.data())
def test_a_damaged_photo_raises_nothing_but_a_refusal(whole, data):
    raw = bytearray(whole)
    # Most of the trouble sits in the headers, so half of the blows land there.
    places = st.one_of(st.integers(0, min(400, len(raw) - 1)), st.integers(0, len(raw) - 1))
    for at, byte in data.draw(st.lists(st.tuples(places, st.integers(0, 255)), min_size=1, max_size=6)):
        raw[at] = byte
    if data.draw(st.booleans()):
        start = data.draw(places)
        del raw[start : start + data.draw(st.integers(0, 60))]
    only_refusal(bytes(raw))
