from studio.models.access import IdempotencyRecord, Invitation, Token
from studio.models.base import Aggregate, Record
from studio.models.change import Change
from studio.models.person import Person
from studio.models.photo import StoredPhoto
from studio.models.place import Studio
from studio.models.station import Pin, Station

__all__ = [
    "Aggregate",
    "Change",
    "IdempotencyRecord",
    "Invitation",
    "Person",
    "Pin",
    "Record",
    "Station",
    "StoredPhoto",
    "Studio",
    "Token",
]
