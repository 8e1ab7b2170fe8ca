"""Reading an answer as a person does."""

import re
from html import unescape


def text_of(response):
    """The words of the page, without its tags."""
    words = re.sub(r"<[^>]+>", " ", response.content.decode())
    return " ".join(unescape(words).split())
