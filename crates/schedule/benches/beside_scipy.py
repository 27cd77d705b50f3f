"""Times SciPy's linear_sum_assignment on the matrix given on standard input.

Called by the bench `beside_scipy` with rows and columns as arguments; prints the median time in
microseconds and the optimum.
"""

import statistics
import sys
import time

import numpy as np
from scipy.optimize import linear_sum_assignment

rows, columns = int(sys.argv[1]), int(sys.argv[2])
worth = np.frombuffer(sys.stdin.buffer.read(), dtype="<f8").reshape(rows, columns)
# The negated copy is made outside the clock: `maximize=True` would make one each time.
cost = -worth
micros = []
for _ in range(200_000 // columns):
    start = time.perf_counter()
    i, j = linear_sum_assignment(cost)
    micros.append((time.perf_counter() - start) * 1e6)
print(statistics.median(micros), repr(float(worth[i, j].sum())))
