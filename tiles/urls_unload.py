"""Unloading and looks that follow; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import looks, loose, unload

urlpatterns = [
    path("firings/<int:number>/unload/", unload.begin, name="unload"),
    path("firings/<int:number>/unloaded/", unload.everything, name="unloaded"),
    path("firings/<int:number>/unload/<str:tile>/", unload.one, name="unload-tile"),
    path("firings/<int:number>/unload/<str:tile>/draft/", unload.draft, name="unload-draft"),
    path("firings/<int:number>/unload/<str:tile>/photo/", unload.photo, name="unload-photo"),
    path("firings/<int:number>/photos/", loose.many, name="loose"),
    path("loose/<uuid:photo>/pick", loose.pick, name="loose-pick"),
    path("loose/<uuid:photo>/undo", loose.undo, name="loose-undo"),
    path("loose/<uuid:photo>/drop", loose.drop, name="loose-drop"),
    path("loose/<uuid:photo>/<str:size>", loose.sized, name="loose-sized"),
    path("looks/", looks.due, name="looks-due"),
    path("looks/<str:number>/", looks.again, name="look-again"),
]
