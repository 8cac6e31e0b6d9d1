"""Sheets for the bench, one for each station of the work: what to set, what to read, boxes for what was found."""
