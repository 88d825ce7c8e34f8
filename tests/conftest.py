"""The same code gets the same verdict in every run.

Laws are tried on examples drawn anew only where that is asked for, to search for what nobody
thought of: ``HYPOTHESIS_PROFILE=searching python -m pytest tests/laws``.
"""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("steady", derandomize=True)
settings.register_profile("searching", derandomize=False, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))
