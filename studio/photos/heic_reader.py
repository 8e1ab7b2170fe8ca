"""A small program: HEIC on standard input; its size and a PNG no larger than asked on standard output.

It runs as a process of its own because the HEVC reader is native code: a damaged file can crash it, and must
not take the service along. It imports neither Django nor this package.
Arguments: longest side and most pixels that are decoded, longest side that is given back.
"""

import io
import sys
from contextlib import suppress

MEMORY_BYTES = 2_000_000_000
SECONDS = 60


def main(raw: bytes, max_side: int, max_pixels: int, long_side: int) -> None:
    """Write '<width> <height>' and, unless that is too large, a PNG with the profile and Exif block."""
    import pi_heif
    from PIL import Image

    pi_heif.register_heif_opener(thumbnails=False, depth_images=False, aux_images=False, decode_threads=2)
    picture = pi_heif.HeifImageFile(io.BytesIO(raw))

    def too_large() -> bool:
        return max(picture.size) > max_side or picture.width * picture.height > max_pixels

    png = io.BytesIO()
    size = picture.size
    if not too_large():
        picture.load()
        size = picture.size  # the header may have promised another one
        if not too_large():
            picture.thumbnail((long_side, long_side), Image.Resampling.LANCZOS, reducing_gap=3.0)
            carried = {key: picture.info[key] for key in ("icc_profile", "exif") if picture.info.get(key)}
            picture.save(png, "PNG", compress_level=1, **carried)
    sys.stdout.buffer.write(b"%d %d\n" % size + png.getvalue())


def _limit() -> None:
    # Not every system has these limits; the process that started this one also watches the time.
    with suppress(ImportError, OSError, ValueError):
        import resource

        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))


if __name__ == "__main__":
    _limit()
    main(sys.stdin.buffer.read(), *map(int, sys.argv[1:4]))
