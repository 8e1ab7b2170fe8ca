"""The one refusal of the photo pipeline, and its sentences."""

from django.utils.translation import gettext_lazy as _

MAX_MEGABYTES = 25
MAX_MEGAPIXELS = 60
MAX_SIDE = 12_000
MIN_SIDE = 32

SENTENCES = {
    "empty": _("This file is empty. Take or choose the photo again."),
    "too-heavy": _("This file is larger than %(megabytes)d MB. Send a smaller copy of the photo."),
    "not-a-photo": _("This is not a photo that can be read here: send a JPEG, PNG, WebP or HEIC file."),
    "too-large": _(
        "This picture is %(width)d × %(height)d pixels; the limit is %(side)d on a side"
        " and %(megapixels)d million in all. Make it smaller and send it again."
    ),
    "too-small": _(
        "This picture is only %(width)d × %(height)d pixels; it needs at least %(least)d on each side."
        " Choose a larger one."
    ),
    "unreadable": _(
        "This photo is damaged or was cut off on its way, so it cannot be read."
        " Send it again, or take a new one."
    ),
}


class PhotoRefused(Exception):
    """A file that is not taken in: `code`, `sentence` (what is wrong, what to do) and the sender's `name`."""

    def __init__(self, code: str, *, name: str = "", width: int = 0, height: int = 0) -> None:
        self.code = code
        self.name = name
        self.sentence = str(SENTENCES[code]) % {
            "width": width,
            "height": height,
            "megabytes": MAX_MEGABYTES,
            "megapixels": MAX_MEGAPIXELS,
            "side": MAX_SIDE,
            "least": MIN_SIDE,
        }
        super().__init__(self.sentence)
