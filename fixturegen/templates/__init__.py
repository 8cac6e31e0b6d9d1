"""Paper that is laid on steel: blanks 1:1 in tiles, wraps for the ends of tubes."""
