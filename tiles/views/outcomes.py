from django.http import Http404


def look(request, **kwargs):
    raise Http404
