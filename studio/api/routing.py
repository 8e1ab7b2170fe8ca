"""Addresses of resources: plural, with UUIDs, named `api-<resource>-<action>`."""

from rest_framework.routers import SimpleRouter
from rest_framework.viewsets import GenericViewSet


class Router(SimpleRouter):
    def __init__(self) -> None:
        super().__init__(use_regex_path=False)

    def add(self, name: str, view: type[GenericViewSet]) -> None:
        self.register(name, view, basename=f"api-{name}")
