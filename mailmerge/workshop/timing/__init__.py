"""Time: what the artwork and the profile say, what the clock says, and when a batch is done."""
