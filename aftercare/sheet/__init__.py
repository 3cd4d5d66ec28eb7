"""A Library and a nurse's choices become sheets, in no language yet.

Responsible for which choices are valid, which modules stand on a sheet under which conditions, which facts no sheet may lack,
the dates that follow from the choices, and the short code behind the QR code.

May not open a file, read a clock, or know a language or HTML: equal arguments give equal sheets.
"""
