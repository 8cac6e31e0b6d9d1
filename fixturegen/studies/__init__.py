"""Numbers about this axle and its jig: plan, error budget, locating, stability, sag."""
