"""Files: read whole, and written whole or not at all, one by one or many together.

Only SQLite opens the ledger; everything else on the disk is written and deleted through here.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
