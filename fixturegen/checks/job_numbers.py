"""Numbers that a job has only where its sheet has what they are about: links, loads, parts the person has."""

from __future__ import annotations

from fixturegen.checks.registry import Job
from fixturegen.findings import Number


def linked(job: Job) -> dict[str, Number]:
    """Numbers of the links; none where the sheet has none, or where LNK-01 says that they are no linkage."""
    if job.sheet.links is None:
        return {}
    # only a sheet with links pays for them
    from fixturegen.checks.links import links_in
    from fixturegen.studies.link_study import link_numbers

    study = links_in(job)
    return {} if study is None else link_numbers(job.sheet, job.axle, study)


def had(job: Job) -> dict[str, Number]:
    """Numbers of the parts the person has; none before they were read."""
    read = job.store.get("components.read", ())
    if not read:
        return {}
    # only a sheet with parts the person has pays for them
    from fixturegen.studies.component_numbers import component_numbers

    return component_numbers((one.component, one.reading) for one in read if one.reading is not None)


def loaded(job: Job) -> dict[str, Number]:
    """Numbers of the load cases; none without loads, or where LOD-01 says that they cannot be told."""
    if job.sheet.loads is None or job.sheet.links is None:
        return {}
    # only a sheet with loads pays for them
    from fixturegen.checks.housing import numbers_in
    from fixturegen.checks.loads import loads_in
    from fixturegen.studies.axle_loads import AxleLoads
    from fixturegen.studies.load_numbers import load_numbers

    made = loads_in(job)
    return load_numbers(job.sheet, job.axle, made) | numbers_in(job) if isinstance(made, AxleLoads) else {}
