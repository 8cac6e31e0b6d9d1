"""A truss from sheet to solids against the kernel's own time for the same solids; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_truss_ratio.py -o addopts="" -s`. The second
peer is the silhouette alone: the kernel's section of the axle by the planes of both side plates.
"""

import time

from fixturegen import keeping
from fixturegen.bodies.axle import bare_bodies
from fixturegen.shapes.cache import cached_solid
from fixturegen.shapes.sections import section_lines
from fixturegen.shapes.solids import solid_of
from fixturegen.studies.truss_edges import obstacles_along
from fixturegen.studies.truss_plan import truss_plan
from tests.studies.truss_jobs import truss_job


def timed(work):
    start = time.process_time()
    made = work()
    return time.process_time() - start, made


def test_a_truss_against_the_kernels_solids_and_the_silhouette_against_its_sections(tmp_path):
    job = truss_job()  # libraries loaded
    plan = truss_plan(job.sheet, job.axle)
    numbers, _ = timed(lambda: truss_plan(job.sheet, job.axle))
    with keeping.cache_in(tmp_path / "cache"):
        drawn, again = timed(truss_job)
        cold, _ = timed(lambda: [cached_solid(p) for p in again.parts.values()])
        warm, _ = timed(lambda: [cached_solid(p) for p in truss_job().parts.values()])
    kernel, _ = timed(lambda: [solid_of(p) for p in job.parts.values()])
    bodies = [s for n, s in bare_bodies(job.sheet, job.axle).items() if n in ("housing", "tube-left", "tube-right")]
    ours, _ = timed(lambda: [obstacles_along(job.sheet, job.axle, *p.x, bridged=False) for p in plan.plates])
    planes = [x for p in plan.plates for x in p.x]
    theirs, _ = timed(lambda: [section_lines(b, (x, 0.0, 0.0), (1.0, 0.0, 0.0)) for x in planes for b in bodies])
    print(f"\nplan {numbers:.3f} s; parts with marks {drawn:.3f} s; solids {cold:.3f} s; all of it warm {warm:.3f} s")
    print(f"sheet to solids {(drawn + cold) / kernel:.2f} times the kernel's solids alone ({kernel:.3f} s)")
    print(f"silhouettes by closed form {ours:.4f} s, kernel's sections {theirs:.3f} s: {theirs / ours:.0f} times")
    assert len(job.parts) == len(again.parts)
