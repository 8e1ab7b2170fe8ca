from studio.models.access import IdempotencyRecord, Invitation, Token
from studio.models.base import Aggregate, Record
from studio.models.change import Change
from studio.models.person import Person
from studio.models.place import Studio

__all__ = [
    "Aggregate",
    "Change",
    "IdempotencyRecord",
    "Invitation",
    "Person",
    "Record",
    "Studio",
    "Token",
]
