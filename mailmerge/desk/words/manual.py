"""What is said around the manual."""

from __future__ import annotations

ALL_PAGES = "All pages of the manual"
TASKS, FILES_AND_WORDS = "What to do", "What files and messages say"
