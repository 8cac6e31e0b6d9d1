"""The only room that touches the solid kernel, the mesh and distance libraries, and the renderer.

This file imports none of them: a module of this room is imported where it is used, inside the
function that draws, so that help and sheet reading stay quick.

The kernel's binding imports the whole of the drawing library, some 160 modules, and uses none of it
here: `pictures` asks for the ten it needs. So an empty module stands in its place until one asks for it.
"""

import sys
from importlib import import_module
from types import ModuleType

DRAWING = "vtk"


class _Whole(ModuleType):
    """The drawing library as one module, loaded when something of it is asked for."""

    def __getattr__(self, name: str) -> object:
        if name.startswith("__"):
            raise AttributeError(name)
        if sys.modules.get(DRAWING) is self:
            del sys.modules[DRAWING]
        return getattr(import_module(DRAWING), name)


sys.modules.setdefault(DRAWING, _Whole(DRAWING))
