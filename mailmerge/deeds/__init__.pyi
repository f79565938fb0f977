from mailmerge.progress import CalledOff, Watch, unwatched

from . import (
    about as about,
)
from . import (
    apart as apart,
)
from . import (
    arranging as arranging,
)
from . import (
    beginning as beginning,
)
from . import (
    bench as bench,
)
from . import (
    cards as cards,
)
from . import (
    choosing as choosing,
)
from . import (
    client as client,
)
from . import (
    clock as clock,
)
from . import (
    copies as copies,
)
from . import (
    cut as cut,
)
from . import (
    drafts as drafts,
)
from . import (
    folder as folder,
)
from . import (
    forgetting as forgetting,
)
from . import (
    held as held,
)
from . import (
    known as known,
)
from . import (
    laid as laid,
)
from . import (
    layouts as layouts,
)
from . import (
    letters as letters,
)
from . import (
    line_fonts as line_fonts,
)
from . import (
    listing as listing,
)
from . import (
    making as making,
)
from . import (
    manual as manual,
)
from . import (
    measuring as measuring,
)
from . import (
    naming as naming,
)
from . import (
    newer as newer,
)
from . import (
    offered as offered,
)
from . import (
    opening as opening,
)
from . import (
    outside as outside,
)
from . import (
    papers as papers,
)
from . import (
    pictures as pictures,
)
from . import (
    questions as questions,
)
from . import (
    run as run,
)
from . import (
    samples as samples,
)
from . import (
    secret as secret,
)
from . import (
    sending as sending,
)
from . import (
    settings as settings,
)
from . import (
    shop as shop,
)
from . import (
    status as status,
)
from . import (
    talk as talk,
)
from . import (
    timing as timing,
)
from . import (
    tray as tray,
)
from . import (
    trying as trying,
)
from . import (
    words as words,
)

__all__ = ["CalledOff", "Watch", "unwatched"]
