"""The places of the desk. Each module has ROUTES, and TAKES: what its addresses take as files."""
