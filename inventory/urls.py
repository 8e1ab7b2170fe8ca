"""The shelf's addresses. `/b/<code>` is printed on lids and lives for ever."""

from django.urls import include, path

from inventory.urls_food import substances_and_labels
from inventory.urls_life import life_and_rounds
from inventory.views import (
    bucket,
    buckets,
    class_lists,
    class_page,
    fills,
    finding,
    flag_actions,
    flags,
    glazes,
    labels,
    places,
    readings,
    register,
    shelf,
)

pages = [
    path("shelf/", shelf.shelf, name="shelf"),
    path("shelf.csv", shelf.table, name="shelf-csv"),
    path("b/", finding.find, name="bucket-find"),
    path("b/<str:code>/sg", readings.new, name="reading-new"),
    path("b/<str:code>/flag", flag_actions.new, name="flag-new"),
    path("b/<str:code>/flag/reach", flag_actions.reach, name="flag-reach"),
    path("b/<str:code>/stock", fills.stock, name="stock-new"),
    path("b/<str:code>/fill", fills.new, name="fill-new"),
    path("b/<str:code>/edit", buckets.edit, name="bucket-edit"),
    path("b/<str:code>/archive", buckets.archive, name="bucket-archive"),
    path("b/<str:code>/label", buckets.label, name="bucket-label"),
    path("buckets/new/", buckets.new, name="bucket-new"),
    path("fills/<uuid:pk>/edit/", fills.edit, name="fill-edit"),
    path("fills/<uuid:pk>/end/", fills.end, name="fill-end"),
    path("flags/", flags.index, name="flag-list"),
    path("flags/<uuid:pk>/", flags.flag, name="flag"),
    path("flags/<uuid:pk>/note/", flag_actions.note, name="flag-note"),
    path("flags/<uuid:pk>/photo/", flag_actions.photo, name="flag-photo"),
    path("flag-photos/<uuid:pk>/<str:size>", flags.photo, name="flag-photo-sized"),
    path("flags/<uuid:pk>/withdraw/", flag_actions.withdraw, name="flag-withdraw"),
    path("flags/<uuid:pk>/clear/", flag_actions.clear, name="flag-clear"),
    path("glazes/", glazes.index, name="glaze-list"),
    path("glazes/new/", glazes.new, name="glaze-new"),
    path("glazes/<uuid:pk>/", glazes.glaze, name="glaze"),
    path("glazes/<uuid:pk>/edit/", glazes.edit, name="glaze-edit"),
    path("glazes/<uuid:pk>/archive/", glazes.archive, name="glaze-archive"),
    path("places/", places.index, name="place-list"),
    path("places/new/", places.new, name="place-new"),
    path("places/<uuid:pk>/edit/", places.edit, name="place-edit"),
    path("places/<uuid:pk>/archive/", places.archive, name="place-archive"),
    path("class-lists/", class_lists.index, name="class-list-list"),
    path("class-lists/new/", class_lists.new, name="class-list-new"),
    path("class-lists/<uuid:pk>/", class_lists.page, name="class-list"),
    path("class-lists/<uuid:pk>/edit/", class_lists.edit, name="class-list-edit"),
    path("class-lists/<uuid:pk>/paper/", class_lists.paper, name="class-list-paper"),
    path("class-lists/<uuid:pk>/address/", class_lists.address, name="class-list-address"),
    path("class-lists/<uuid:pk>/close/", class_lists.close, name="class-list-close"),
    path("class/<str:secret>/", class_page.page, name="class-page"),
    path("register/", register.register, name="register"),
    path("register.csv", register.table, name="register-csv"),
    path("labels/", labels.labels, name="labels"),
    *life_and_rounds,
    *substances_and_labels,
]

urlpatterns = [
    path("b/<str:code>", bucket.bucket, name="bucket"),
    path("", include((pages, "inventory"))),
]
