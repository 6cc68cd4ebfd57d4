"""Rules that compare a plan with a limit; the mechanics computes, a rule compares."""
