"""What every test shares."""

from __future__ import annotations

from hypothesis import settings

# A busy machine is no fault of the code, so no example is failed for being slow.
settings.register_profile("house", deadline=None, max_examples=100)
settings.load_profile("house")
