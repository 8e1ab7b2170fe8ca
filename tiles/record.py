"""What is known of a tile, in words: its cone, its firings and the flags that touch it."""

from dataclasses import dataclass
from typing import Any

from django.template.defaultfilters import date as date_words
from django.utils import timezone
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from inventory.models import Flag
from inventory.sentences import cone_words
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.witness import TileCone
from tiles.models import Layer, Tile, TileFiring
from tiles.sentences import basis_words


def day_words(moment: Any) -> str:
    return date_words(timezone.localtime(moment), "j F Y")


def cone_and_basis(row: Tile | TileFiring, below: Any = None) -> str:
    """'cone 6 (1222 °C), planned only'; '' when no firing tells anything."""
    if not row.cone_basis:
        return ""
    basis = basis_words(TileCone(row.cone, row.cone_basis, below))
    if row.cone is None:
        return str(capfirst(basis))
    joint = " " if row.cone_basis in ("witness_here", "log") else ", "
    return f"{cone_words(row.cone)}{joint}{basis}"


def cone_basis(tile: Tile) -> str:
    """The tile's cone with what it rests on."""
    rows = tile.tile_firings.filter(firing__kind__in=GLAZE_FIRINGS, cone_basis=tile.cone_basis)
    short = rows.exclude(cone_below=None).first() if tile.cone_basis == "witness_short" else None
    return cone_and_basis(tile, short.cone_below if short else None)


@dataclass(frozen=True, slots=True)
class Touch:
    """A flag that was true of a layer's bucket when the layer was put on."""

    layer: Layer
    flag: Flag
    sentence: str


def touches(tile: Tile) -> list[Touch]:
    found = []
    for layer in tile.layers.all():
        if layer.fill_id is not None:
            flags = Flag.objects.touching(fill=layer.fill_id, at=layer.applied_at)
            found += [Touch(layer, flag, _flag_words(layer, flag)) for flag in flags.order_by("created_at")]
    return found


def _flag_words(layer: Any, flag: Flag) -> str:
    said = {
        "n": layer.position,
        "glaze": layer.glaze.name,
        "code": layer.fill.bucket.code,
        "flag": flag.get_kind_display(),
    }
    sentence = _("Layer %(n)s, %(glaze)s out of bucket %(code)s: flagged “%(flag)s”") % said
    since = (
        _("since %(day)s") % {"day": day_words(flag.since)} if flag.since else _("for as long as it stood")
    )
    return f"{sentence} {since}; {_outcome_words(flag)}."


def _outcome_words(flag: Flag) -> str:
    if flag.is_open:
        return _("still open")
    if flag.put_right_at:
        return _("put right on %(day)s") % {"day": day_words(flag.put_right_at)}
    return str(flag.get_outcome_display())
