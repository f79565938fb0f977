"""Papers: the run sheet, the quote, and the key of a test card, with their cautions."""
