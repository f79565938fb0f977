"""The machine that engraves: its profile, and how a cup is loaded onto it."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
