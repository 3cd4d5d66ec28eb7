"""Translated sheets become pages: HTML and PDF on paper, HTML on the phone.

Responsible for what a page looks like and how its values are isolated for direction. The only package that imports qrcode
(`qr`), WeasyPrint (`pdf`) and Jinja (`templates`).

Reads templates and fonts only, and may not decide what stands on a sheet: that was settled before.
"""
