"""Orders: ``order.toml`` and what it settles before anything is made."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
