"""The talk with the client: what is sent, what comes back, and what it means for each item."""
