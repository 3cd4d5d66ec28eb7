"""Renders translated sheets: HTML and PDF for paper, HTML for the phone.

Responsible for the layout of a page and for the direction isolation of its values. The only package that imports qrcode
(`qr`), WeasyPrint (`pdf`) and Jinja (`templates`).

Reads only templates and fonts. May not decide what a sheet contains: `sheet/` does.
"""
