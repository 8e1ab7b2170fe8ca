"""The words that stand beside a drawn layer."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

BODY_COLOURS = {
    "white": gettext_lazy("white clay"),
    "buff": gettext_lazy("buff clay"),
    "grey": gettext_lazy("grey clay"),
    "red": gettext_lazy("red clay"),
    "brown": gettext_lazy("brown clay"),
    "black": gettext_lazy("black clay"),
    "speckled": gettext_lazy("speckled clay"),
}
AREAS = {
    "whole": gettext_lazy("all over"),
    "inside": gettext_lazy("inside"),
    "outside": gettext_lazy("outside"),
    "lip": gettext_lazy("lip"),
    "foot": gettext_lazy("foot"),
    "upper": gettext_lazy("upper part"),
    "lower": gettext_lazy("lower part"),
    "band": gettext_lazy("a band"),
}
KINDS = {
    "underglaze": gettext_lazy("underglaze"),
    "slip": gettext_lazy("slip"),
    "engobe": gettext_lazy("engobe"),
    "terra_sigillata": gettext_lazy("terra sigillata"),
    "wash": gettext_lazy("wash"),
    "lustre": gettext_lazy("overglaze or lustre"),
    "wax": gettext_lazy("wax, burns away"),
}
APPLIED = {
    "dip": gettext_lazy("%(coats)s dipped"),
    "brush": gettext_lazy("%(coats)s brushed"),
    "pour": gettext_lazy("%(coats)s poured"),
    "spray": gettext_lazy("%(coats)s sprayed"),
    "other": gettext_lazy("%(coats)s put on in another way"),
}
NUMBERS = [gettext_lazy(word) for word in ("no", "one", "two", "three", "four", "five", "six")]


def layer_words(kind: str, coats: int | None, method: str | None, area: str, wiped_back: bool) -> str:
    """How a layer was put on, such as 'two coats brushed, upper part'.

    >>> layer_words("slip", 1, "pour", "whole", True)
    'slip, one coat poured, all over, wiped back'
    """
    words = [str(KINDS[kind])] if kind in KINDS else []
    if coats is None:
        words.append(_("coats not noted"))
        words.append(str(APPLIED[method]) % {"coats": ""} if method in APPLIED else _("method not noted"))
    else:
        said = NUMBERS[coats] if 0 <= coats < len(NUMBERS) else coats
        counted = ngettext("%(number)s coat", "%(number)s coats", coats) % {"number": said}
        words.append(str(APPLIED[method]) % {"coats": counted} if method in APPLIED else counted)
        if method not in APPLIED:
            words.append(_("method not noted"))
    words.append(str(AREAS.get(area, area)))
    if wiped_back:
        words.append(_("wiped back"))
    return ", ".join(word.strip() for word in words)


def happened_words(ground_state: str, is_even: bool | None, stirred_in: str) -> str:
    """What else was noted of a layer, '' when nothing; `ground_state` in words.

    >>> happened_words("dusty", False, "Weir Blue")
    'with Weir Blue stirred in, onto what was dusty, uneven'
    """
    words = [_("with %(glaze)s stirred in") % {"glaze": stirred_in}] if stirred_in else []
    if ground_state:
        words.append(_("onto what was %(state)s") % {"state": ground_state})
    if is_even is not None:
        words.append(_("even") if is_even else _("uneven"))
    return ", ".join(words)
