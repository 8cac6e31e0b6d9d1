"""Papers: pictures of flat and turned parts, the report."""
