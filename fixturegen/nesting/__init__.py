"""Where each plate part lies on which sheet, and what that layout is worth; no kernel, no files."""
