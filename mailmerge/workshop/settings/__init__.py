"""Settings: recipes for coats on machines, and the test card that finds them."""
