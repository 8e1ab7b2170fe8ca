"""From the file a phone sends to three clean sizes and the untouched original.

>>> from studio import photos
>>> sorted(photos.SIZES)
['large', 'medium', 'small']
"""

from .keeping import forget, names, open_original, open_size, store
from .preparing import PreparedPhoto, prepare
from .refusing import PhotoRefused
from .sizing import SIZES

__all__ = [
    "SIZES",
    "PhotoRefused",
    "PreparedPhoto",
    "forget",
    "names",
    "open_original",
    "open_size",
    "prepare",
    "store",
]
