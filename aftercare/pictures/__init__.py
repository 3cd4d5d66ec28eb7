"""Drawings as SVG text: the device on the limb, computed from the device's data, and pictograms, from their files' text.

Functions here map values to strings. They open no file, know no language and write no page: a caller passes the title of a
drawing in the language of its page, and places the SVG in its HTML or CSS.
"""

from aftercare.pictures.device import device_picture, device_thumbnail
from aftercare.pictures.pictograms import inline_pictogram, pictogram_data_uri, pictogram_paths

__all__ = ["device_picture", "device_thumbnail", "inline_pictogram", "pictogram_data_uri", "pictogram_paths"]
