from django.http import Http404


def add(request, **kwargs):
    raise Http404


def page(request, **kwargs):
    raise Http404


def archive(request, **kwargs):
    raise Http404


def original(request, **kwargs):
    raise Http404


def sized(request, **kwargs):
    raise Http404
