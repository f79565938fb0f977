"""The shop itself: what holds for every order, its questions, and its hours."""
