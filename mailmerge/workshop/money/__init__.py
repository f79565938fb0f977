"""Money: how many blanks to buy, and what to charge."""
