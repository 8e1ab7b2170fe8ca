"""Firings; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import firing_moves, firing_page, firings, load_sheet, loading, witness

urlpatterns = [
    path("firings/", firings.listing, name="firing-list"),
    path("firings/new/", firings.new, name="firing-new"),
    path("firings/<int:number>/", firing_page.page, name="firing"),
    path("firings/<int:number>/edit/", firings.edit, name="firing-edit"),
    path("firings/<int:number>/move/", firing_moves.move, name="firing-move"),
    path("firings/<int:number>/back/", firing_moves.back, name="firing-back"),
    path("firings/<int:number>/load/", loading.load, name="firing-load"),
    path("firings/<int:number>/take-out/", loading.take_out, name="firing-take-out"),
    path("firings/<int:number>/pieces/", loading.add_piece, name="firing-piece"),
    path("firings/<int:number>/pieces/<uuid:piece>/out/", loading.take_piece_out, name="firing-piece-out"),
    path("firings/<int:number>/stay/", loading.stay, name="firing-stay"),
    path("firings/<int:number>/sheet/", load_sheet.sheet, name="firing-sheet"),
    path("firings/<int:number>/witness/", witness.witness, name="firing-witness"),
]
