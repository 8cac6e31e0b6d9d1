"""The only room that touches the solid kernel, the mesh and distance libraries, and the renderer.

This file imports none of them: a module of this room is imported where it is used, inside the
function that draws, so that help and sheet reading stay quick.
"""
