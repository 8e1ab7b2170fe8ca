"""What other apps hang on a page."""

from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

register = template.Library()


@register.simple_tag(takes_context=True)
def show_panel(context: template.Context, name: str, values: dict[str, Any]) -> SafeString:
    """What another app hangs on this page, drawn with its own values over the page's."""
    assert context.template is not None, "A tag is drawn within a template."
    panel = context.template.engine.get_template(name)
    with context.push(**values):
        return mark_safe(panel.render(context))  # noqa: S308 - a template's output, escaped there
