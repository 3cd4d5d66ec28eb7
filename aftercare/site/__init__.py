"""Publishes the phone site: a folder of static files for any web host.

Responsible for the files besides the patients' pages, for atomic publishing, for earlier editions and withdrawn codes, and for
comparing what a host serves with what was published.

May not decide what a page says. Writes only inside the folder of the site.
"""
