# The local linear trend of the numbers on standard input, a line each, with the
# variances given, by statsmodels; the smoothed state and the seconds it took.
import json
import sys
import time

import numpy as np
from statsmodels.tsa.statespace.structural import UnobservedComponents

variances = [float(x) for x in sys.argv[1:4]]
y = np.array([float(x) for x in sys.stdin])
model = UnobservedComponents(y, "local linear trend", loglikelihood_burn=0)
model.ssm.initialize_diffuse()
best = 1e9
for _ in range(3):
    begin = time.perf_counter()
    result = model.smooth(variances)
    best = min(best, time.perf_counter() - begin)
state = result.smoothed_state
cov = result.smoothed_state_cov
json.dump({"seconds": best, "llf": float(result.llf), "level": state[0].tolist(), "slope": state[1].tolist(),
           "var_level": cov[0, 0].tolist(), "var_slope": cov[1, 1].tolist()}, sys.stdout)
