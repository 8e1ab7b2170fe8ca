"""Firings; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import firing_page, firings, witness

urlpatterns = [
    path("firings/", firings.listing, name="firing-list"),
    path("firings/new/", firings.new, name="firing-new"),
    path("firings/<int:number>/", firing_page.page, name="firing"),
    path("firings/<int:number>/edit/", firings.edit, name="firing-edit"),
    path("firings/<int:number>/move/", firing_page.move, name="firing-move"),
    path("firings/<int:number>/load/", firing_page.load, name="firing-load"),
    path("firings/<int:number>/take-out/", firing_page.take_out, name="firing-take-out"),
    path("firings/<int:number>/witness/", witness.witness, name="firing-witness"),
]
