"""Reading what is sent to the API."""

from typing import Any

from django.utils.translation import gettext as _
from rest_framework import exceptions, parsers


class JSONParser(parsers.JSONParser):
    """JSON that is nested deeper than Python reads is refused like any other that cannot be read."""

    def parse(self, *args: Any, **kwargs: Any) -> Any:
        try:
            return super().parse(*args, **kwargs)
        except RecursionError as error:
            raise exceptions.ParseError(_("This JSON is nested too deeply to be read.")) from error
