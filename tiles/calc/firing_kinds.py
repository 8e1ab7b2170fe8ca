"""Which kinds of firing do what."""

# They melt the glaze and mature the body; bisque melts nothing, overglaze only what lies on the glaze.
GLAZE_FIRINGS = ("glaze", "refire")
