"""Why something went wrong, and the questions that are asked most; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import ask, causes, why

urlpatterns = [
    path("ask/", ask.page, name="ask"),
    path("t/<str:number>/why/", why.page, name="why"),
    path("t/<str:number>/why/trial", why.plan, name="why-plan"),
    path("remedies/<uuid:pk>/", why.remedy, name="remedy"),
    path("remedies/<uuid:pk>/drop", why.drop, name="remedy-drop"),
    path("causes/", causes.page, name="causes"),
    path("causes/table.csv", causes.table, name="causes-csv"),
    path("causes/edit/", causes.edit, name="causes-edit"),
    path("causes/restore", causes.restore, name="causes-restore"),
]
