"""Tests by behavior. `outside/` checks against published sources, `golden/` holds expected files, `browser/` looks through one.

A package, since one of the test tools brings a package named `tests` of its own, which would come first otherwise.
"""
