"""What the wall is asked: the form of its filters, and the words of those that are set."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _

from inventory.calc.cones import Cone, ConeError
from inventory.sentences import cone_words

_CONE_IN_WORDS = re.compile(r"(?:\bcone\s+|\^)([0-9]{1,3}(?:\.5|½)?)(?![\w.½])", re.IGNORECASE)


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
        return given


def cones_and_words(text: str) -> tuple[list[Cone], list[str]]:
    """What was typed into the search: the cones that it names, and the words that are left.

    >>> cones_and_words("satin cone 06 blue")
    ([Cone(rank=-10)], ['satin', 'blue'])
    >>> cones_and_words("cone 99 ^6")
    ([Cone(rank=12)], ['cone', '99'])
    """
    cones = []

    def take(match: re.Match[str]) -> str:
        try:
            cones.append(Cone.parse(match[1]))
        except ConeError:
            return match[0]
        return " "

    return cones, _CONE_IN_WORDS.sub(take, text).split()


def choices_like(word: str, choices: Iterable[tuple[Any, Any]]) -> list[str]:
    """The choices in whose words `word` occurs, from three letters on.

    >>> choices_like("sat", [("satin", "satin"), ("matte", "matte")])
    ['satin']
    """
    if len(word) < 3:
        return []
    return [str(value) for value, label in choices if word.casefold() in str(label).casefold()]


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
        if value in (None, "", []):
            continue
        chosen = value if isinstance(value, list) else [value]
        for one in chosen:
            left = query.copy()
            rest = [v for v in left.getlist(name) if v != str(one)] if isinstance(value, list) else []
            left.setlist(name, rest)
            words = _words(form.fields[name], name, one)
            found.append(SetFilter(words, plain_query(left)))
    return found


def plain_query(query: QueryDict) -> str:
    """The query string without empty values and without the place in the pages.

    >>> plain_query(QueryDict("q=&cone_min=6&cursor=abc"))
    'cone_min=6'
    """
    plain = QueryDict(mutable=True)
    for name, values in query.lists():
        if name != "cursor" and (kept := [v for v in values if v.strip()]):
            plain.setlist(name, kept)
    return plain.urlencode()


def _words(field: forms.Field, name: str, value: Any) -> str:
    if name == "waiting":
        return _("waiting for a result") if value else _("not waiting for a result")
    if isinstance(value, Cone):
        words = cone_words(value)
    else:
        words = (
            str(dict(getattr(field, "choices", [])).get(value, value)) if _is_choice(field) else str(value)
        )
    says = {
        "q": _("“%(it)s”"),
        "cone_min": _("from %(it)s"),
        "cone_max": _("up to %(it)s"),
        "glaze": _("%(it)s anywhere"),
        "glaze_top": _("%(it)s on top"),
        "glaze_under": _("%(it)s underneath"),
        "without_fault": _("looked at, no %(it)s"),
        "body": _("on %(it)s"),
        "maker": _("made by %(it)s"),
    }
    return says.get(name, "%(it)s") % {"it": words}


def _is_choice(field: forms.Field) -> bool:
    return isinstance(field, forms.ChoiceField) and not isinstance(field, forms.ModelChoiceField)
