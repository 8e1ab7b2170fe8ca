import pytest


def photos_in(settings, folder):
    settings.STORAGES = {
        **settings.STORAGES,
        "photos": {
            "BACKEND": "django.core.files.storage.FileSystemStorage",
            "OPTIONS": {"location": folder},
        },
    }


@pytest.fixture
def photo_folder(settings, tmp_path):
    """Photos of this test lie in a folder of its own."""
    photos_in(settings, tmp_path / "photos")
    return tmp_path / "photos"
