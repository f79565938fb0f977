"""The manual's pages, for whoever shows them."""

from __future__ import annotations

from mailmerge.manual import FILES, TASKS, Page, page, pages

__all__ = ["FILES", "TASKS", "Page", "page", "pages"]
