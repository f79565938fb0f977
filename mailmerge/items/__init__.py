"""One item: composed, loaded, checked, written and drawn in memory, and the record of it."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
