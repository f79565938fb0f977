"""Artwork: layouts, composition on the face, and the SVG file."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
