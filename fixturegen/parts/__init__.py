"""Makers of parts, one module a kind; nobody keeps a list."""
