"""A room of its own for what comes from outside: it is read in another process, within limits.

Parsers have limits of their own, which say what is wrong. This is for what they do not know of: a
file that makes a library crash, hang or grow ends that process, and here it is one line.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
