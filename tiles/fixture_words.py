"""Tables of words in fixtures/: too long for a catalogue, so a translation is a file beside the English one.

`questions.csv` in German is `questions.de.csv`: the same codes and columns, the words translated.
"""

from functools import lru_cache
from pathlib import Path

from django.conf import settings
from django.utils.translation import get_language


def fixture_text(name: str) -> str:
    """The table in the reader's language if there is one, else as it was written."""
    language = (get_language() or "").lower()
    return _read(name, language, language.split("-")[0])


@lru_cache(maxsize=32)
def _read(name: str, *languages: str) -> str:
    folder = Path(settings.BASE_DIR) / "fixtures"
    tried = [folder / f"{name}.{language}.csv" for language in languages if language.isalpha()]
    found = next((path for path in tried if path.is_file()), folder / f"{name}.csv")
    return found.read_text(encoding="utf-8")
