"""What holds for every test: examples that hypothesis makes have no deadline, since a busy machine proves nothing."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("any machine", parent=settings(), deadline=None)
settings.load_profile("any machine")
