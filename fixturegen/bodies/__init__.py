"""The idealized axle as solids, drawn from the sheet's numbers; through `shapes` only.

Modules of this room load the kernel: import them inside the function that needs them.
"""
