"""Import this first: starts Python again with one thread and the complex build of dolfinx."""

import os
import sys

# The choice of the build is made when Python starts.
WANTED = {
    "OMP_NUM_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
    "PETSC_DIR": "/usr/lib/petscdir/petsc-complex",
    "SLEPC_DIR": "/usr/lib/slepcdir/slepc-complex",
}
if "COMPLEX_BUILD_CHOSEN" not in os.environ:
    os.execve(sys.executable, [sys.executable, *sys.argv], {**os.environ, **WANTED, "COMPLEX_BUILD_CHOSEN": "1"})
