"""Words and screens: the only room that prints."""
