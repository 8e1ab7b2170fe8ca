"""`{% lid code use level sg sg_low sg_high %}`: the bucket's lid with its words."""

from typing import Any

from django import template

from inventory import drawings

register = template.Library()


@register.inclusion_tag("inventory/_lid.html")
def lid(
    code: str,
    use: str,
    level=None,
    sg=None,
    sg_low=None,
    sg_high=None,
    prefix: str = "lid",
    big: bool = False,
    name: str = "",
    url: str = "",
    short: bool = False,
) -> dict[str, Any]:
    """`big` on the bucket's own page; `short` in a list, with the `name` of what is in it.

    Two drawings of the same bucket on one page need different prefixes.
    """
    drawing = drawings.lid(code, use, level, sg, sg_low, sg_high)
    return {
        "lid": drawing,
        "prefix": f"{prefix}-{code}",
        "big": big,
        "name": name,
        "url": url,
        "short": short or name,
    }


@register.inclusion_tag("inventory/_small_lid.html")
def small_lid(code: str, use: str, level=None, sg=None, sg_low=None, sg_high=None) -> dict[str, Any]:
    """The drawing alone, for a page whose own words stand beneath it."""
    return {"lid": drawings.lid(code, use, level, sg, sg_low, sg_high)}
