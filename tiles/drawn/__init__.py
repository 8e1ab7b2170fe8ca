"""Pictures of tiles that nobody photographed: a lit height field of clay and glaze. numpy and Pillow, no Django.

They stand where a demo tile's photo would, and are always called drawings. The same look gives the same picture.
"""

from tiles.drawn.draw import draw
from tiles.drawn.look import Coat, TileLook

__all__ = ["Coat", "TileLook", "draw"]
