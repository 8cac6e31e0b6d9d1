"""The 3-D page: what the report shows on top where a browser can draw it."""
