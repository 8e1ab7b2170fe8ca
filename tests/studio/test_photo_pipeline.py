"""Photos taken in: what the served sizes show, what they never carry, and what stays untouched."""

import hashlib
import io
from datetime import datetime
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, InMemoryStorage
from PIL import Image, ImageChops, ImageOps, ImageStat

from studio import photos
from studio.photos.sizing import WALL_GREY
from tests import icc_profiles, photo_files

TAKEN = "2026:03:14 09:26:53"
KINDS = {"jpeg": photo_files.jpeg, "png": photo_files.png, "webp": photo_files.webp}


def prepare(raw: bytes) -> photos.PreparedPhoto:
    return photos.prepare(io.BytesIO(raw), name="tile.jpg")


def shown(prepared: photos.PreparedPhoto, size: str = "large") -> Image.Image:
    return Image.open(io.BytesIO(prepared.sizes[size]))


def unlike(image: Image.Image, wanted: Image.Image) -> float:
    """Mean difference of a channel, 0 to 255."""
    return max(ImageStat.Stat(ImageChops.difference(image, wanted.resize(image.size))).mean)


def flat(colour, mode: str = "RGB") -> Image.Image:
    return Image.new(mode, (64, 64), colour)


def assert_colour(prepared: photos.PreparedPhoto, wanted: tuple[int, int, int], within: int = 3) -> None:
    image = shown(prepared)
    assert image.mode == "RGB"
    pixel = image.getpixel((30, 30))
    assert max(abs(a - b) for a, b in zip(pixel, wanted, strict=True)) <= within, (pixel, wanted)


@pytest.mark.parametrize("kind", ["jpeg", "png", "webp", "heic"])
def test_each_kind_is_told_by_its_bytes_and_kept_whole(kind):
    raw = KINDS[kind]((300, 500), taken=TAKEN) if kind in KINDS else photo_files.heic()
    file = ContentFile(raw, name="misnamed.pdf")
    prepared = photos.prepare(file, name="misnamed.pdf")
    assert (prepared.kind, prepared.width, prepared.height) == (kind, 300, 500)
    assert prepared.taken_at == datetime(2026, 3, 14, 9, 26, 53)  # noqa: DTZ001 the camera's own clock
    assert prepared.original == raw == file.read()
    assert prepared.sha256 == hashlib.sha256(raw).hexdigest()
    assert unlike(shown(prepared), photo_files.picture((300, 500))) < 4


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", KINDS)
def test_every_orientation_hangs_the_same_tile_upright(kind, orientation):
    marked = photo_files.picture((120, 200))
    marked.paste("red", (0, 0, 60, 60))  # so that no turn or mirror of it looks alike
    raw = KINDS[kind](image=marked, orientation=orientation)
    prepared = prepare(raw)
    assert (prepared.width, prepared.height) == shown(prepared).size == (120, 200)
    assert unlike(shown(prepared), marked) < 4
    judged_elsewhere = ImageOps.exif_transpose(Image.open(io.BytesIO(raw))).convert("RGB")
    assert unlike(judged_elsewhere, marked) < 4


def test_sizes_shrink_to_the_long_side_and_never_enlarge():
    big = prepare(photo_files.jpeg((1500, 2500)))
    assert {name: shown(big, name).size for name in photos.SIZES} == {
        "small": (192, 320),
        "medium": (576, 960),
        "large": (1229, 2048),
    }
    assert {shown(prepare(photo_files.png((90, 150))), name).size for name in photos.SIZES} == {(90, 150)}


@pytest.mark.parametrize("kind", ["jpeg", "png", "webp", "heic"])
def test_no_served_size_tells_where_when_or_with_what(kind):
    raw = KINDS[kind]((1500, 2500), gps=True, taken=TAKEN) if kind in KINDS else photo_files.heic()
    secrets = [b"Exif", b"GPS", b"Millrace", b"xmpmeta", b"2026:03:14", b"ICC_PROFILE"]
    assert {secret for secret in secrets if secret in raw} >= {b"Millrace", b"xmpmeta", b"2026:03:14"}
    prepared = prepare(raw)
    for name, content in prepared.sizes.items():
        assert not [secret for secret in secrets if secret in content]
        image = shown(prepared, name)
        assert not image.getexif()
        assert set(image.info) <= {
            "jfif",
            "jfif_version",
            "jfif_unit",
            "jfif_density",
            "progressive",
            "progression",
        }


# sRGB #009900 in the two wider spaces. Display P3: CSS Color 4, section 10.3, and its web platform test
# display-p3-001 (0.26374 0.59085 0.16434). opRGB: the same colour by the matrix of IEC 61966-2-5.
# Both from memory, and worked out again from the matrices.
@pytest.mark.parametrize(
    ("profile", "stored"),
    [(icc_profiles.display_p3(), (67, 151, 42)), (icc_profiles.op_rgb(), (86, 152, 36))],
    ids=["display-p3", "op-rgb"],
)
@pytest.mark.parametrize("kind", KINDS)
def test_a_colour_profile_is_obeyed(kind, profile, stored):
    options = {"lossless": True} if kind == "webp" else {}
    assert_colour(prepare(KINDS[kind](image=flat(stored), icc=profile, **options)), (0, 153, 0), within=4)
    assert_colour(prepare(KINDS[kind](image=flat(stored), **options)), stored)


def test_a_grey_photo_with_a_colour_profile_is_shaded_by_its_curve():
    linear = (20 / 255) ** (563 / 256)  # IEC 61966-2-5; back by the curve of sRGB, IEC 61966-2-1
    level = round(255 * (1.055 * linear ** (1 / 2.4) - 0.055))
    raw = photo_files.png(image=flat(20, "L"), icc=icc_profiles.op_rgb())
    assert_colour(prepare(raw), (level, level, level))


def test_a_profile_that_does_not_fit_is_passed_over():
    for mode, colour in (("RGB", (120, 80, 60)), ("L", 120)):
        plain = Image.new("RGB", (1, 1)), flat(colour, mode).convert("RGB").getpixel((0, 0))
        assert_colour(prepare(photo_files.png(image=flat(colour, mode), icc=b"no profile")), plain[1])
    cmyk = photo_files.jpeg(image=flat((0, 255, 255, 0), "CMYK"), icc=icc_profiles.op_rgb())
    assert_colour(prepare(cmyk), (255, 0, 0))


def _palette_with_clear_entry() -> Image.Image:
    image = flat((200, 40, 40)).quantize(4)
    image.info["transparency"] = image.getpixel((0, 0))
    return image


PIXELS = [
    "clear",
    "solid",
    "half",
    "webp-clear",
    "palette-clear",
    "palette",
    "16-bit-grey",
    "1-bit",
    "grey",
    "cmyk",
]


@pytest.mark.parametrize(
    ("raw", "wanted"),
    [
        (photo_files.png(image=flat((255, 0, 0, 0), "RGBA")), WALL_GREY),
        (photo_files.png(image=flat((255, 0, 0, 255), "RGBA")), (255, 0, 0)),
        (photo_files.png(image=flat((0, 128), "LA")), (87, 87, 87)),
        (photo_files.webp(image=flat((0, 0, 255, 0), "RGBA")), WALL_GREY),
        (photo_files.png(image=_palette_with_clear_entry()), WALL_GREY),
        (photo_files.png(image=flat((200, 40, 40)).quantize(4)), (200, 40, 40)),
        (photo_files.png(image=flat(40_000, "I;16")), (156, 156, 156)),
        (photo_files.png(image=flat(1, "1")), (255, 255, 255)),
        (photo_files.jpeg(image=flat(90, "L")), (90, 90, 90)),
        (photo_files.jpeg(image=flat((0, 255, 255, 0), "CMYK")), (255, 0, 0)),
    ],
    ids=PIXELS,
)
def test_every_pixel_kind_becomes_plain_srgb(raw, wanted):
    assert_colour(prepare(raw), wanted)


def test_sixteen_bit_colour_keeps_its_colours():
    assert unlike(shown(prepare(photo_files.png16((90, 150)))), photo_files.picture((90, 150))) < 4


@pytest.mark.parametrize("raw", [photo_files.webp((90, 150), animated=True), photo_files.apng((90, 150))])
def test_the_first_frame_of_a_moving_picture_counts(raw):
    assert unlike(shown(prepare(raw)), photo_files.picture((90, 150))) < 4


@pytest.mark.parametrize("text", ["0000:00:00 00:00:00", "yesterday", "2026:13:40 09:26:53", "    "])
def test_a_date_that_is_none_is_unknown(text):
    assert prepare(photo_files.jpeg((90, 150), taken=text)).taken_at is None


def test_a_damaged_exif_block_does_not_cost_the_photo():
    raw = photo_files.jpeg((90, 150), orientation=3, taken=TAKEN)
    broken = raw.replace(b"Exif\0\0", b"Exif\0\0\xff\xff\xff\xff")
    prepared = prepare(broken)
    assert (prepared.taken_at, prepared.width) == (None, 90)


@pytest.fixture(params=["memory", "disk"])
def storage(request, tmp_path):
    return InMemoryStorage() if request.param == "memory" else FileSystemStorage(tmp_path)


def files_in(storage, folder: str = "") -> set[str]:
    folders, files = storage.listdir(folder)
    inner = {path for name in folders for path in files_in(storage, f"{folder}{name}/")}
    return inner | {folder + name for name in files}


def test_store_and_read_again(storage):
    prepared = prepare(photo_files.heic())
    key, other = photos.store(prepared, storage), photos.store(prepared, storage)
    assert key != other
    names = {"original.heic", "small.jpg", "medium.jpg", "large.jpg"}
    assert files_in(storage) == {f"photos/{k[:2]}/{k}/{name}" for k in (key, other) for name in names}
    for size in photos.SIZES:
        with photos.open_size(storage, key, size) as file:
            assert file.read() == prepared.sizes[size]
    with photos.open_original(storage, key, "heic") as file:
        assert file.read() == prepared.original
    photos.forget(storage, key)
    photos.forget(storage, key)
    assert files_in(storage) == {f"photos/{other[:2]}/{other}/{name}" for name in names}


def test_a_failed_write_leaves_nothing_behind(tmp_path):
    class FullDisk(FileSystemStorage):
        def _save(self, name, content):
            if Path(name).name == "medium.jpg":
                raise OSError("no space left")
            return super()._save(name, content)

    with pytest.raises(OSError, match="no space"):
        photos.store(prepare(photo_files.png((90, 150))), FullDisk(tmp_path))
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


@pytest.mark.parametrize("key", ["../../etc/passwd", "", "A" * 32, "0" * 31, "0" * 32 + "\n"])
def test_a_key_is_never_a_path(key, storage):
    with pytest.raises(ValueError, match="key"):
        photos.open_size(storage, key, "small")
    with pytest.raises(ValueError, match="size"):
        photos.open_size(storage, "0" * 32, "../original")
