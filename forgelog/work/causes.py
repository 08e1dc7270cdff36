"""Why pieces are spoilt: the trade's own short list, which counts can be kept of."""

from __future__ import annotations

CAUSES = ("burnt", "cracked", "cold shut", "too short", "wrong size", "lost")
"""What the floor offers when a piece is scrapped."""

OTHER_CAUSE = "another cause"
"""Anything that somebody wrote in words of their own."""
