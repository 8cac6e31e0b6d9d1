"""Brackets: one kind a file, each from hardpoint, joint, what it stands on and the plate it is cut from."""
