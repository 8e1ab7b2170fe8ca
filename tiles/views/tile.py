from django.http import Http404


def hand(request, **kwargs):
    raise Http404


def edit(request, **kwargs):
    raise Http404


def page(request, **kwargs):
    raise Http404
