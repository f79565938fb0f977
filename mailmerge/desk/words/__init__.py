"""What this room says to people, one module for each place; pages see all of them together."""

from mailmerge.desk.words.bench import *
from mailmerge.desk.words.bill import *
from mailmerge.desk.words.client import *
from mailmerge.desk.words.cups import *
from mailmerge.desk.words.everywhere import *
from mailmerge.desk.words.guests import *
from mailmerge.desk.words.looks import *
from mailmerge.desk.words.manual import *
from mailmerge.desk.words.orders import *
from mailmerge.desk.words.settings import *
from mailmerge.desk.words.shop import *
