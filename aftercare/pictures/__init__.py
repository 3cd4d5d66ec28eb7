"""Our own drawings: the device on the limb, and one pictogram for each topic and sign."""

from aftercare.pictures.device import device_picture, device_thumbnail
from aftercare.pictures.pictograms import PICTOGRAMS, pictogram, pictogram_data_uri

__all__ = ["PICTOGRAMS", "device_picture", "device_thumbnail", "pictogram", "pictogram_data_uri"]
