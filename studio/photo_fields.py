"""A photo out of the camera or out of the phone's album. What is in the file is judged by studio/photos."""

from typing import Any

from django import forms

ACCEPT = "image/*,.heic,.heif"


class AnyFile(forms.FileField):
    """An empty file gets its sentence from the photo pipeline, like every other bad one."""

    def __init__(self, *, camera: bool = False, **kwargs: Any) -> None:
        attrs = {"accept": ACCEPT} | ({"capture": "environment"} if camera else {})
        kwargs.setdefault("widget", forms.FileInput(attrs=attrs))
        super().__init__(required=False, allow_empty_file=True, **kwargs)


class ManyFilesInput(forms.FileInput):
    allow_multiple_selected = True


class AnyFiles(AnyFile):
    """Several at once; its value is a list."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=ManyFilesInput(attrs={"accept": ACCEPT, "multiple": True}), **kwargs)

    def clean(self, data: Any, initial: Any = None) -> Any:
        sent = data if isinstance(data, list | tuple) else [data]
        return [file for one in sent if (file := super(AnyFiles, self).clean(one, initial)) is not None]
