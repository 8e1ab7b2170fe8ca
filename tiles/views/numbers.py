from django.http import Http404


def reserve(request, **kwargs):
    raise Http404


def written(request, **kwargs):
    raise Http404


def bare(request, **kwargs):
    raise Http404


def add(request, **kwargs):
    raise Http404
