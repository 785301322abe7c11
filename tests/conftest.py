"""Settings that hold for all tests."""

import os

from hypothesis import settings

# The same examples on every run, so that a red test is red for everybody; set HYPOTHESIS_PROFILE to
# `search` to look for new ones.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("search", deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))
