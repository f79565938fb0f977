"""The engine: runs an order from its list to the files, one item at a time, on all cores."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
