"""matplan plans framed pictures backwards from the frame: mats, prints, drawings to cut by and lists to order by.

    import matplan
    plan = matplan.plan(matplan.read_job("gallery/ferry-steps/job.toml"))
    matplan.make(plan, "pack")

Nothing heavy is imported until it is used.
"""

__version__ = "0.1.0"
