"""Settings that all tests share."""

from hypothesis import settings

# the machines that run these tests are shared: a slow example says nothing of the code
settings.register_profile("underbag", deadline=None, derandomize=True)
settings.load_profile("underbag")
