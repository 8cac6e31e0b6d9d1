"""Drawings of fifty parts against the bare making of their solids, printed and never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_drawing_ratio.py -o addopts="" -s
--import-mode=importlib`. Time of the processor. Parts are invented.
"""

import time
from dataclasses import replace

from fixturegen import keeping
from fixturegen.drawings import documents as room
from fixturegen.shapes.cache import cached_solid
from tests.drawings.test_documents import contents
from tests.drawings.test_part_drawings import bent, pin, plate
from tests.sheet.altered import sheet


def test_drawings_of_fifty_parts(tmp_path):
    kinds = (plate, pin, bent)
    parts = [replace(kinds[n % 3](), name=f"part-{n:02d}", quantity=1 + n) for n in range(50)]
    with keeping.cache_used(False):
        start = time.process_time()
        for part in parts:
            cached_solid(part)
        solids = time.process_time() - start
    with keeping.cache_in(tmp_path):
        start = time.process_time()
        made = room.documents(contents(sheet(), *parts))
        cold = time.process_time() - start
        start = time.process_time()
        room.documents(contents(sheet(), *parts))
        warm = time.process_time() - start
    pages = sum(len(d.proofs) for d in made)
    size = sum(len(d.content) for d in made)
    print(f"\n50 parts, {pages} pages, {size / 1e6:.2f} MB: {cold:.2f} s, kept {warm:.3f} s")
    print(f"their solids {solids:.2f} s: drawn and proved {cold / max(solids, 1e-9):.1f} times that")
    print(f"kept {cold / max(warm, 1e-9):.0f} times quicker")
    assert len(made) == 50
