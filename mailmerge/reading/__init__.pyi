from .room import Outside, apart, get_ready

__all__ = ["Outside", "apart", "get_ready"]
