"""Composes sheets from a Library and a nurse's choices, before translation.

Responsible for which choices are valid, which modules a sheet has under which conditions, which facts every sheet must give,
the dates that follow from the choices, and the address in the QR code.

May not open a file, read a clock, or know a language or HTML: equal arguments give equal sheets.
"""
