"""What an order remembers: its ledger, who is who, where each item stands, and what is released."""
