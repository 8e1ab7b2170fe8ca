from django.http import Http404


def start(request, **kwargs):
    raise Http404


def page(request, **kwargs):
    raise Http404


def check(request, **kwargs):
    raise Http404


def correct(request, **kwargs):
    raise Http404


def take_away(request, **kwargs):
    raise Http404


def load(request, **kwargs):
    raise Http404
