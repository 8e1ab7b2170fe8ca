"""What a kiln leaves on whatever is fired in it later: what was noted of it, and what its own firings tell."""

from collections.abc import Iterable

from django.db.models import F, Q

from tiles.models import Firing, Kiln

NOTED = ("lead_or_cadmium", "lustre", "salt")
SETTLES = ("Pb", "Cd")


def kiln_cautions(kilns: Iterable[Kiln]) -> tuple[tuple[str, str], ...]:
    """(name of the kiln, reason), in two queries. A firing on record tells also of a kiln of which nobody noted it."""
    asked = list(dict.fromkeys(kilns))
    if not asked:
        return ()
    begun = Firing.objects.filter(kiln__in=asked, state__in=Firing.BEGUN).order_by()
    overglaze = set(begun.filter(kind=Firing.Kind.OVERGLAZE).values_list("kiln", flat=True))
    # Only what lay on the ware by then: a tile may have been bisqued in one kiln and glazed for another.
    layer = "tile_firings__tile__layers"
    lay_on_it = Q(**{f"{layer}__applied_at__lte": F("started_at")}) | Q(**{f"{layer}__applied_at": None})
    hot = begun.exclude(kind=Firing.Kind.BISQUE)
    held = [f"{layer}__{glaze}__substances" for glaze in ("glaze", "stirred_in")]
    of_it, stirred = (
        hot.filter(lay_on_it, **{f"{noted}__substance__in": SETTLES, f"{noted}__taken_back_at": None})
        for noted in held
    )
    # Each by itself, and not with an "or": so either begins with the few glazes that hold any.
    leaded = set(of_it.values_list("kiln", flat=True).union(stirred.values_list("kiln", flat=True)))
    found = []
    for kiln in asked:
        reasons = [reason for reason in NOTED if getattr(kiln, reason)]
        if kiln.pk in leaded and "lead_or_cadmium" not in reasons:
            reasons.append("lead_glaze")
        if kiln.pk in overglaze and "lustre" not in reasons:
            reasons.append("overglaze")
        found += [(kiln.name, reason) for reason in reasons]
    return tuple(found)
