"""Files of a build and their read-back: DXF, STEP, summary, lists, the folder itself."""
