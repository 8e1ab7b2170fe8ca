"""The planned pot; tiles/urls.py puts it into its namespace."""

from django.urls import path

from tiles.views import pot

urlpatterns = [
    path("pot/", pot.plan, name="pot"),
]
