"""The places of the desk. Each module has ROUTES."""
