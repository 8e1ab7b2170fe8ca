"""What the wall is asked: the form of its filters, and the words of those that are set."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from inventory.calc.cones import Cone
from inventory.models import Opacity, Surface
from inventory.sentences import cone_range_words, cone_words
from studio.filtering import PAGING
from tiles.calc.stems import stem, stems
from tiles.calc.wall_words import Piece, pieces, without

ALSO_CALLED = {"matt": "matte", "gloss": "glossy"}


class WallForm(forms.Form):
    """The filters together: the cones the right way round."""

    def clean(self) -> dict[str, Any]:
        given = super().clean() or self.cleaned_data
        low, high = given.get("cone_min"), given.get("cone_max")
        if low and high and low > high:
            wrong = _(
                "From cone %(low)s to cone %(high)s is the wrong way round: %(high)s is cooler. Swap them."
            )
            self.add_error("cone_max", wrong % {"low": low.label, "high": high.label})
        first, last = given.get("date_from"), given.get("date_to")
        if first and last and first > last:
            self.add_error("date_to", _("This is before the first day. Swap them."))
        return given


def understood(text: str) -> list[Piece]:
    """What was typed into the search, piece by piece: words that name a surface or an opacity are taken as such.

    >>> [(piece.kind, piece.value) for piece in understood('matt cone 06 blue "satin"')]
    [('surface', 'matte'), ('cone', '06'), ('words', 'blue'), ('quoted', 'satin')]
    """
    looks = {word: ("surface", value) for word, value in ALSO_CALLED.items()}
    for kind, choices in (("surface", Surface), ("opacity", Opacity)):
        for value, label in choices.choices:
            looks[str(value)] = looks[str(label).casefold()] = (kind, value)
    return pieces(text, looks)


def choices_like(word: str, choices: Iterable[tuple[Any, Any]], as_it_stands: bool = False) -> list[str]:
    """The choices in whose words `word` occurs, from three letters on; in any form of it, unless `as_it_stands`.

    >>> choices_like("craz", [("c", "crazing"), ("p", "pinholing")]), choices_like("pinholes", [("p", "pinholing")])
    (['c'], ['p'])
    """
    if len(word) < 3:
        return []
    return [
        str(value)
        for value, label in choices
        if word.casefold() in str(label).casefold() or (not as_it_stands and stem(word) in stems(str(label)))
    ]


@dataclass(frozen=True, slots=True)
class SetFilter:
    """A filter in words, and the query string without it."""

    words: str
    without: str


def set_filters(form: forms.BaseForm, query: QueryDict) -> list[SetFilter]:
    """Every filter that is set, each choice on its own, in the order of the form."""
    found, given = [], dict(form.cleaned_data)
    if given.get("cone_min") and given.get("cone_min") == given.get("cone_max"):
        left = query.copy()
        left.pop("cone_max")
        left.pop("cone_min")
        found.append(SetFilter(cone_words(given.pop("cone_min")), plain_query(left)))
        del given["cone_max"]
    for name, value in given.items():
        if value in (None, "", []) or name == "hang":
            continue
        if name == "q":
            found += _words_taken(value, query)
            continue
        chosen = value if isinstance(value, list) else [value]
        for one in chosen:
            left = query.copy()
            rest = [v for v in left.getlist(name) if v != str(one)] if isinstance(value, list) else []
            left.setlist(name, rest)
            words = _words(form.fields[name], name, one)
            found.append(SetFilter(words, plain_query(left)))
    return found


def _words_taken(text: str, query: QueryDict) -> list[SetFilter]:
    """How each piece of the search was understood."""
    found = []
    for piece in understood(text):
        left = query.copy()
        left["q"] = without(text, piece)
        found.append(SetFilter(_piece_words(piece), plain_query(left)))
    return found


def _piece_words(piece: Piece) -> str:
    if piece.cones:
        low, high = piece.cones
        return cone_words(low) if low == high else cone_range_words(low, high)
    if piece.kind == "surface":
        return _("surface %(it)s") % {"it": Surface(piece.value).label}
    if piece.kind == "opacity":
        return str(Opacity(piece.value).label)
    return _("“%(it)s”") % {"it": piece.value}


def plain_query(query: QueryDict) -> str:
    """The query string without empty values, the usual hanging and the place in the pages.

    >>> plain_query(QueryDict("q=&cone_min=6&cursor=abc&page_size=0"))
    'cone_min=6'
    """
    plain = QueryDict(mutable=True)
    for name, values in query.lists():
        if (
            name not in PAGING
            and (name, values[-1:]) != ("hang", ["cone"])
            and (kept := [v for v in values if v.strip()])
        ):
            plain.setlist(name, kept)
    return plain.urlencode()


def _words(field: forms.Field, name: str, value: Any) -> str:
    if name == "waiting":
        return _("waiting for a result") if value else _("not waiting for a result")
    if name == "marked":
        return _("set aside for a flag") if value else _("not set aside")
    if isinstance(value, Cone):
        words = cone_words(value)
    elif isinstance(value, date):
        words = date_format(value, "j F Y")
    elif isinstance(field, forms.ModelChoiceField):
        words = str(field.label_from_instance(value))
    else:
        words = str(dict(getattr(field, "choices", [])).get(value, value))
    says = {
        "cone_min": _("from %(it)s"),
        "cone_max": _("up to %(it)s"),
        "movement": _("moved: %(it)s"),
        "glaze": _("%(it)s anywhere"),
        "glaze_top": _("%(it)s on top"),
        "glaze_under": _("%(it)s underneath"),
        "layers": _("layers: %(it)s"),
        "with_fault": _("with %(it)s"),
        "without_fault": _("looked at, no %(it)s"),
        "verdict": _("verdict: %(it)s"),
        "body": _("on %(it)s"),
        "use_then": _("buckets then: %(it)s"),
        "use_now": _("buckets now: %(it)s"),
        "place": _("in %(it)s"),
        "maker": _("made by %(it)s"),
        "date_from": _("made from %(it)s"),
        "date_to": _("made until %(it)s"),
    }
    return says.get(name, "%(it)s") % {"it": words}
