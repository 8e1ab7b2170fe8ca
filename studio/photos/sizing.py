"""Turn an opened picture into plain sRGB, upright, and into the three served sizes.

What is served is always drawn on a new canvas, so nothing the file carried (place, camera, comments,
thumbnails) can come along.
"""

from functools import cache
from io import BytesIO

from PIL import Image, ImageCms, ImageFile

# Long side in pixels, JPEG quality, chroma subsampling. The larger two keep full colour detail,
# because a glaze is judged by its specks.
SIZES = {"small": (320, 82, "4:2:0"), "medium": (960, 88, "4:4:4"), "large": (2048, 88, "4:4:4")}
# About Munsell N7: the grey of the wall that photos lie on (`--wall` in the page's tokens).
WALL_GREY = (173, 173, 173)
# The values of the Orientation tag (CIPA DC-008, Exif) and what puts each upright.
UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def plain_srgb(picture: ImageFile.ImageFile) -> Image.Image:
    """Decode, shrink to the largest served size, convert to sRGB and lay alpha on grey.

    Shrinking comes first: a JPEG is then decoded at a fraction of its size, and colour is converted
    for the pixels that remain.
    """
    profile = picture.info.get("icc_profile")
    target = fitted(picture.size, SIZES["large"][0])
    picture.draft(None, target)
    image = _shrunk(_eight_bits(picture), target)
    canvas = _in_srgb(_without_alpha(image), profile)
    if image.mode != "RGBA":
        return canvas
    grey = Image.new("RGB", canvas.size, WALL_GREY)
    grey.paste(canvas, mask=image.getchannel("A"))
    return grey


def upright(image: Image.Image, orientation: int) -> Image.Image:
    """Return the image turned as the Orientation tag says; 1 and unknown values leave it."""
    turn = UPRIGHT.get(orientation)
    return image if turn is None else image.transpose(turn)


def served_sizes(image: Image.Image) -> dict[str, bytes]:
    """Return the JPEG bytes of each served size; a picture is never enlarged."""
    return {
        name: _jpeg(_shrunk(image, fitted(image.size, long_side)), quality, subsampling)
        for name, (long_side, quality, subsampling) in SIZES.items()
    }


def fitted(size: tuple[int, int], long_side: int) -> tuple[int, int]:
    """Return the size shrunk to a long side in pixels, in proportion.

    >>> fitted((4000, 3000), 320), fitted((100, 80), 320), fitted((32, 12000), 320)
    ((320, 240), (100, 80), (1, 320))
    """
    scale = min(1.0, long_side / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def _eight_bits(picture: Image.Image) -> Image.Image:
    # Palettes and single bits cannot be averaged; sixteen bits would be clipped instead of scaled.
    picture.load()
    if picture.mode.startswith("I"):
        return picture.convert("I").point(lambda level: level / 257).convert("L")
    if picture.has_transparency_data:
        return picture.convert("RGBA")
    return picture if picture.mode in ("L", "RGB", "CMYK") else picture.convert("RGB")


def _shrunk(image: Image.Image, size: tuple[int, int]) -> Image.Image:
    return image if image.size == size else image.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)


def _without_alpha(image: Image.Image) -> Image.Image:
    return image.convert("RGB") if image.mode == "RGBA" else image


def _in_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    # A broken or mismatched profile is passed over, as every viewer does: colours are then read as sRGB.
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            if image.mode == "L" and source.profile.xcolor_space.strip() == "RGB":
                image = image.convert("RGB")
            converted = ImageCms.profileToProfile(image, source, _srgb(), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError):
            converted = None
        if converted is not None:
            return converted
    return image.convert("RGB")


@cache
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _jpeg(image: Image.Image, quality: int, subsampling: str) -> bytes:
    clean = Image.new("RGB", image.size)
    clean.paste(image)
    out = BytesIO()
    clean.save(out, "JPEG", quality=quality, subsampling=subsampling, optimize=True, progressive=True)
    return out.getvalue()
