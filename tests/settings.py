"""The real settings in a data folder of their own, with a fast password hash."""

import atexit
import os
import shutil
import tempfile

_folder = tempfile.mkdtemp(prefix="tilekeep-tests-")
atexit.register(shutil.rmtree, _folder, ignore_errors=True)
for _name in [n for n in os.environ if n.startswith("TILEKEEP_")]:
    if _name not in (
        "TILEKEEP_DATABASE_URL",
        "TILEKEEP_REQUIRE_BROWSER",
        "TILEKEEP_SCREENSHOTS",
    ):
        del os.environ[_name]
os.environ["TILEKEEP_DATA_DIR"] = _folder

from studio.settings import *  # noqa: E402, F403
from studio.settings import STORAGES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    **STORAGES,
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True
