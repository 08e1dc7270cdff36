"""What the desk says when it cannot do what was asked."""

from __future__ import annotations


class CannotDo(Exception):
    """It was not done, and nothing has changed. The words go to the smith as they are."""


class FloorTaken(CannotDo):
    """Another floor on this device has the book; this one can only look."""
