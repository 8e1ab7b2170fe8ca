"""What is asked most, answered in general and from this studio's own tiles."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.pages import PersonRequest, needs
from tiles.evidence import evidence_for
from tiles.questions import TOPICS, matching

FEW = 3  # so many answers stand open
LONGEST = 120


@require_safe
@needs("studio.see")
def page(request: PersonRequest) -> HttpResponse:
    words = request.GET.get("q", "")[:LONGEST]
    found = matching(words)
    told = evidence_for(found, request.user)
    sections: list[tuple[str, Any, list[Any]]] = []
    # What was searched for stands in the order of how well it fits, everything in the order of the topics.
    for code in dict.fromkeys(one.topic for one in found) if words.strip() else TOPICS:
        rows = [(one, told[one.code]) for one in found if one.topic == code]
        if rows:
            sections.append((code, TOPICS[code], rows))
    context = {"q": words, "sections": sections, "is_few": len(found) <= FEW}
    return render(request, "tiles/ask.html", context)
